import { expect, it } from 'vitest'
import { capacityTable } from '../../sim/line/capacity.ts'
import type { Stop } from '../../sim/line/types.ts'
import { runStudy } from '../../sim/study/replicate.ts'
import { checked, optionsOf } from './lines.ts'

/**
 * A belt with a slot of 2 s and 100 wafers on it, cleaned after every 100 that have reached its end. By hand: while the stop
 * lasts those on it reach the end, one every 2 s, and count no more; after it the rest does. Where the belt stands none does.
 */
const ON_PAPER: readonly (readonly [string, Partial<Stop>, number])[] = [
  // 100 more go in than count: 200 slots, and 4 min.
  ['runs out wholly', { lasts: '4 min' }, 200 / (400 + 240)],
  // 30 reach the end within 60 s: 130 slots, and 1 min.
  ['runs out in part', { lasts: '60 s' }, 130 / (260 + 60)],
  ['stands', { lasts: '60 s', inside: 'resume' }, 100 / (200 + 60)],
  // The 20 that went in last are lost, 30 reach the end.
  ['loses some', { lasts: '60 s', inside: { lose: 20 } }, 150 / (300 + 60)],
  ['loses all', { lasts: '60 s', inside: 'lose' }, 200 / (400 + 60)],
]

it.each(ON_PAPER)(
  'the rate of a belt that %s while it is cleaned is on paper what it is in a run',
  async (_, stop, rate) => {
    const clean: Stop = {
      stop: 'clean',
      counts: 'wafers',
      every: 100,
      lasts: '0 s',
      kind: 'scheduled',
      ...stop,
    }
    const line = checked({
      route: [
        { step: 'furnace', belt: { spacing: '2 s', transit: '200 s' }, stops: [clean] },
        { buffer: 'magazine', capacity: 200 },
        { step: 'test', cycle: '0.5 s' },
      ],
    })
    const [furnace] = capacityTable(line)
    expect(furnace.netPerHour).toBeCloseTo(3600 * rate, 6)
    const study = await runStudy(line, { ...optionsOf({ days: 4, replications: 1 }), cap: 1 })
    expect(study.startedPerHour.mean / furnace.netPerHour).toBeCloseTo(1, 2)
  },
)

/** A belt with a slot of 6 s and 100 wafers on it: a failure after 350 wafers, and service after 40 min that renews it. */
it.each([
  // After service the belt is full, after a failure it has run empty: 450 slots, or 350.
  ['run out', 'resume'],
  ['resume', 'run out'],
  ['resume', 'resume'],
  ['run out', 'run out'],
] as const)('a belt that fails (%s) and is served (%s)', async (fails, serves) => {
  const line = checked({
    route: [
      {
        step: 'furnace',
        belt: { spacing: '6 s', transit: '10 min' },
        stops: [
          { stop: 'failure', counts: 'wafers', every: 350, lasts: '20 min', inside: fails },
          {
            stop: 'service',
            every: '40 min',
            lasts: '15 min',
            inside: serves,
            kind: 'scheduled',
            renews: ['failure'],
          },
        ],
      },
    ],
  })
  const [furnace] = capacityTable(line)
  const study = await runStudy(line, { ...optionsOf({ days: 60, replications: 1 }), cap: 1 })
  expect(study.startedPerHour.mean / furnace.netPerHour).toBeCloseTo(1, 1.7)
})

/** A service that calls mechanics and works on until they come: an alternating renewal process, work and service in turn. */
it.each([
  // By hand: 3 h + 20 min of work, 30 min of service.
  ['always there', 'calendar time', 2, 200 / 230],
  ['always there', 'running time', 2, 200 / 230],
  // By night nobody for 12 h: from a moment at random 3 h more on the average.
  ['there by day', 'calendar time', { day: 2, night: 0 }, 380 / 410],
] as const)('a tool whose mechanics are %s, by %s', async (_, counts, heads, rate) => {
  const line = checked({
    calendar: {
      shifts: { day: { from: '06:00', to: '18:00' }, night: { from: '18:00', to: '06:00' } },
    },
    crews: { mechanics: { heads, reach: '20 min' } },
    route: [
      {
        step: 'print',
        cycle: '30 s',
        stops: [
          {
            ...{ stop: 'service', counts, every: { exponential: '3 h' }, lasts: '30 min' },
            ...{ kind: 'scheduled', skill: 'mechanics', waits: { until: 'people come', atMost: '24 h' } },
          },
        ],
      },
    ],
  })
  const [print] = capacityTable(line)
  expect(print.netPerHour).toBeCloseTo(120 * rate, 9)
  const study = await runStudy(line, { ...optionsOf({ days: 280, replications: 4 }), cap: 4 })
  const { mean, low = mean, high = mean } = study.startedPerHour
  // Where nobody comes by night the moment is not quite at random: services end by day.
  const off = heads === 2 ? 0 : 0.02 * mean
  expect(low - off).toBeLessThan(print.netPerHour)
  expect(high + off).toBeGreaterThan(print.netPerHour)
  expect(study.steps[0].states.waitingForCrew.mean).toBe(0)
})
