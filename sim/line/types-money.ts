import type { Area, Share } from '../base/units.ts'

/**
 * What the line earns and costs. Amounts are bare numbers, all in one currency at one
 * price level.
 */
export interface Money {
  /** Sign or name, as "USD". */
  readonly currency: string
  /** Price of a good cell, per watt or each. Exactly one of the two. */
  readonly pricePerWatt?: number
  readonly pricePerCell?: number
  /** Cost of a bare wafer. */
  readonly wafer: number
  /**
   * What a step adds to the cost of each wafer it starts (paste, chemicals, gas), by the name of
   * the step. So a wafer lost late costs more than one lost early. Steps not named add nothing.
   */
  readonly addedPerWafer?: Readonly<Record<string, number>>
  /**
   * Parts and materials of a stop, each time that it comes to a tool (a screen, a pump kit), by the name of the
   * step, then of the stop. Stops not named take none.
   */
  readonly stops?: Readonly<Record<string, Readonly<Record<string, number>>>>
  /** Price of a dummy wafer in the loads of a step, by the name of the step. Default 0. */
  readonly dummies?: Readonly<Record<string, number>>
  /** Hours a year in which the line runs as simulated. Default 8760. */
  readonly hoursPerYear?: number
  /** Interest of the money that is put in, a year. */
  readonly discountRate?: Share
  /** Years over which what is bought must pay. */
  readonly years?: number
  /** Price of electricity, per kWh. */
  readonly perKilowattHour?: number
  /** Wages per head and hour on duty, by the name of the crew. */
  readonly wages?: Readonly<Record<string, number>>
  /** One tool of each step, by the name of the step. */
  readonly tools?: Readonly<Record<string, ToolMoney>>
  /** One place more in a buffer, by the name of the buffer. */
  readonly places?: Readonly<Record<string, number>>
  /** One carrier more, by the name of the carriers; one vehicle more, by the name of the fleet. */
  readonly carriers?: Readonly<Record<string, number>>
  readonly vehicles?: Readonly<Record<string, number>>
  /** A shorter repair of one stop: spare parts at hand, training. */
  readonly fasterRepair?: Outlay & { readonly shorterBy: Share }
  /** What a variant of the line costs, by its name. */
  readonly variants?: Readonly<Record<string, Outlay>>
  readonly from?: string
}

export interface ToolMoney {
  readonly price: number
  /** Transport, connection, start-up. Default 0. */
  readonly installation?: number
  /** Upkeep a year, as a share of the price. Default 0 %. */
  readonly upkeep?: Share
  /** Power drawn all the time [kW]. Default 0. */
  readonly kilowatts?: number
  readonly floorArea?: Area
  readonly from?: string
}

/** What a change costs: once, and each year (default 0; below zero it saves). */
export interface Outlay {
  readonly investment: number
  readonly perYear?: number
  readonly from?: string
}

/** What may be changed to reach a target, and within which limits. */
export interface Sizing {
  /** Tools a step may have, least and most; in lanes: in each lane. Other steps stay as they are. */
  readonly tools?: Readonly<Record<string, readonly [number, number]>>
  /** Equal lanes a group may have, least and most. */
  readonly lanes?: Readonly<Record<string, readonly [number, number]>>
  /** Capacities to try, by the name of the buffer. */
  readonly buffers?: Readonly<Record<string, readonly number[]>>
  /** Heads to try, by the name of the crew. */
  readonly heads?: Readonly<Record<string, readonly number[]>>
  /** Floor that all tools together may take. */
  readonly floorArea?: Area
  /** Most that all tools and places together may cost. */
  readonly budget?: number
  readonly from?: string
}
