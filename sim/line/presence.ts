import { type Heads, headsAt, openBetween, type Span, shiftChanges, weekOf, whole } from './calendar.ts'
import { WEEK } from './clock.ts'
import type { Calendar, Crew, Line, Stop } from './types.ts'

/** Who is there for what asks for them, over the week. */
export interface Presence {
  /** Moments of the week at which shifts change into one with enough people for it; all changes, when no shift has them. Seconds. */
  shiftChanges(asks: Asks): readonly number[]
  /** Mean open time from any moment at which the line is open until enough people for it are there, or `most` if that is less [s]. */
  untilThere(asks: Asks, most: number): number
}

/** As many people with a skill as a stop asks for; without a skill it asks for nobody. */
export type Asks = Pick<Stop, 'skill' | 'people'>

interface Profile {
  readonly skills: readonly string[]
  readonly heads: readonly Heads[]
}

export function presenceOf(calendar: Calendar | undefined, crews: NonNullable<Line['crews']>): Presence {
  const changes = shiftChanges(calendar)
  const open = weekOf(calendar)
  // Most lines ask for none of this.
  let known: Profile[] | undefined
  const profilesOf = () => {
    known ??= Object.entries(crews).map(([name, crew]) => ({
      skills: skillsOf(name, crew),
      heads: headsAt(crew, calendar),
    }))
    return known
  }

  function enough({ skill, people = 1 }: Asks): (moment: number) => boolean {
    const able = profilesOf().filter(({ skills }) => skill !== undefined && skills.includes(skill))
    if (able.length === 0) return () => true
    return moment =>
      able.some(({ heads }) => (heads.findLast(({ at }) => at <= moment)?.heads ?? 0) >= people)
  }

  function absences(asks: Asks): readonly Span[] {
    const there = enough(asks)
    const moments = [...new Set(profilesOf().flatMap(({ heads }) => heads.map(({ at }) => at)))].sort(
      (a, b) => a - b,
    )
    const spans: { from: number; to: number }[] = []
    moments.forEach((from, m) => {
      const to = m + 1 < moments.length ? moments[m + 1] : WEEK
      const last = spans.at(-1)
      if (there(from)) return
      if (last?.to === from) last.to = to
      else spans.push({ from, to })
    })
    return whole(spans)
  }

  return {
    shiftChanges: asks => {
      const into = changes.filter(enough(asks))
      return into.length > 0 ? into : changes
    },
    untilThere: (asks, most) => {
      const waits = absences(asks).map(({ from, to }) => openBetween(open, from, to))
      const waited = waits.reduce((sum, wait) => sum + meanWithin(wait, most), 0)
      return waited / openBetween(open, 0, WEEK)
    },
  }
}

/** Of a time that is left of so long, or `most` if that is less, the sum over all moments. */
function meanWithin(long: number, most: number): number {
  return Math.min(long, most) ** 2 / 2 + Math.max(0, long - most) * most
}

/** What a crew can do: its skills, or what its name says. */
export function skillsOf(name: string, { skills }: Crew): readonly string[] {
  return skills ?? [name]
}
