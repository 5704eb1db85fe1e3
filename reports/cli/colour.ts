import pc from 'picocolors'
import type { Colours } from '../terminal/summary.ts'
import type { Output } from './surroundings.ts'

type Environment = Readonly<Record<string, string | undefined>>

/**
 * Colours for one stream: FORCE_COLOR decides when set, then NO_COLOR (no-color.org),
 * then whether the stream is a terminal that can show them.
 */
export function coloursFor(stream: Output, env: Environment): Colours {
  return pc.createColors(wantsColour(stream, env))
}

function wantsColour(stream: Output, env: Environment): boolean {
  if (env.FORCE_COLOR !== undefined) return env.FORCE_COLOR !== '0'
  return !env.NO_COLOR && isScreen(stream, env)
}

/** True for a terminal on which lines can be drawn anew. */
export function isScreen(stream: Output, env: Environment): boolean {
  return stream.isTTY === true && env.TERM !== 'dumb'
}
