import { Writable } from 'node:stream'
import type { Surroundings } from '../../../reports/cli/surroundings.ts'

/** A stream that keeps what is written to it; with the manners of a terminal on demand. */
export function keeper(kind: 'pipe' | 'terminal' = 'pipe') {
  const written: string[] = []
  const sink = new Writable({
    write(chunk, _encoding, done) {
      written.push(String(chunk))
      done()
    },
  })
  const manners = { cursorTo() {}, clearLine() {}, moveCursor() {}, clearScreenDown() {} }
  const stream = Object.assign(sink, { isTTY: kind === 'terminal', columns: 80, ...manners })
  return { stream, text: () => written.join('') }
}

/** Surroundings that keep everything, with a clock that goes on by a second at each look. */
export function madeUp(more: Partial<Surroundings> = {}) {
  const stdout = keeper()
  const stderr = keeper()
  let now = 0
  const surroundings: Surroundings = {
    stdout: stdout.stream,
    stderr: stderr.stream,
    env: {},
    args: ['run', 'line.ts'],
    cores: 1,
    open: () => {},
    seconds: () => now++,
    heedInterrupts: () => () => {},
    breathe: async () => {},
    ...more,
  }
  return { surroundings, stdout, stderr }
}
