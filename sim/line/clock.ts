import { nearest } from '../base/nearest.ts'
import type { ClockTime, Day, DayTime } from './types-people.ts'

/** Times by the clock, in seconds from Monday 00:00. */

export const DAYS: readonly Day[] = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun']
/** Length of a day [s]. */
export const DAY = 86_400
/** Length of a week [s]. */
export const WEEK = 7 * DAY

/**
 * Reads a time of day such as `06:00`.
 *
 * @returns seconds from midnight, or a text that says what is wrong with it, '' when nothing
 * more can be said than what is wanted
 */
export function parseDayTime(text: string): number | string {
  const figures = /^(\d{1,2}):(\d{2})$/.exec(text)
  if (!figures) return /^\d/.test(text) ? 'hours and minutes of 24 hours, as in "18:30"' : ''
  const [hours, minutes] = [Number(figures[1]), Number(figures[2])]
  if (hours === 24 && minutes === 0) return 'midnight is "00:00"'
  if (hours > 23 || minutes > 59) return 'a day ends at "23:59"'
  return figures[1].length === 2 ? hours * 3600 + minutes * 60 : `write "0${text}"`
}

/** A time by the clock as it was read: of one day of the week (0 is Monday), or of every day. */
export interface ReadClock {
  readonly day?: number
  /** From midnight [s]. */
  readonly time: number
}

/** Reads `06:00` or `Mon 06:00`. */
export function parseClock(text: string): ReadClock | string {
  const words = text.split(' ')
  const time = parseDayTime(words[words.length - 1])
  if (words.length === 1) return typeof time === 'string' ? time : { time }
  if (words.length !== 2) return 'write the day, one blank, and the time'
  const day = DAYS.indexOf(words[0] as Day)
  if (day < 0) {
    const near = nearest(words[0].slice(0, 3), DAYS)
    if (near === undefined) return `days are ${DAYS.join(', ')}`
    return `did you mean "${near} ${withTwoDigits(words[1])}"?`
  }
  if (typeof time === 'string' && withTwoDigits(words[1]) !== words[1])
    return `write "${words[0]} ${withTwoDigits(words[1])}"`
  return typeof time === 'string' ? time : { day, time }
}

/** A time of day whose hour lacks its first digit, with it. */
function withTwoDigits(text: string): string {
  return /^\d:\d{2}$/.test(text) ? `0${text}` : text
}

/** Seconds from midnight of a time of day that has been validated. */
export function dayTime(text: DayTime): number {
  const time = parseDayTime(text)
  if (typeof time === 'string') throw new Error(`"${text}" is not a time of day: ${time}`)
  return time
}

/**
 * The seconds of the week at which these clock times strike, in rising order, each once.
 * Monday 00:00 is 0.
 */
export function clockTimes(at: readonly ClockTime[]): readonly number[] {
  const seconds = at.flatMap(text => {
    const read = parseClock(text)
    if (typeof read === 'string') throw new Error(`"${text}" is not a time by the clock: ${read}`)
    const days = read.day === undefined ? DAYS.map((_, day) => day) : [read.day]
    return days.map(day => day * DAY + read.time)
  })
  return [...new Set(seconds)].sort((a, b) => a - b)
}
