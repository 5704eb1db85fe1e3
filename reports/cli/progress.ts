import { SingleBar } from 'cli-progress'
import { isScreen } from './colour.ts'
import type { Surroundings } from './surroundings.ts'

/** Shows how far a long run is. */
export interface Progress {
  /** `share` done, 0 to 1, what is being done, and the time left in words, empty when nobody knows. */
  update(share: number, what: string, left: string): void
  /** Clears the bar; the line is free again. */
  end(): void
}

const TOTAL = 1000
/** Seconds between two lines where no bar can be drawn, such as in the log of a batch job. */
const SILENCE = 30

/** A bar on standard error; where that is no terminal, a line now and then. */
export function progressOn(surroundings: Surroundings): Progress {
  const { stderr, env } = surroundings
  if (!isScreen(stderr, env)) return progressLines(surroundings)
  const bar = new SingleBar({
    stream: stderr,
    format: '{bar} {percentage} %  {left}  {what}',
    barCompleteChar: '█',
    barIncompleteChar: '░',
    barsize: 20,
    fps: 10,
    hideCursor: true,
    clearOnComplete: true,
    // The command ends the bar itself, on Ctrl-C too.
    gracefulExit: false,
  })
  bar.start(TOTAL, 0, { left: '', what: '' })
  return {
    update(share, what, left) {
      bar.update(Math.round(TOTAL * Math.min(1, Math.max(0, share))), { left, what })
    },
    end: () => bar.stop(),
  }
}

function progressLines({ stderr, seconds }: Surroundings): Progress {
  let said = seconds()
  return {
    update(share, what, left) {
      const now = seconds()
      if (now - said < SILENCE) return
      said = now
      stderr.write(`${Math.floor(100 * share)} % done${left === '' ? '' : `, ${left}`}: ${what}\n`)
    },
    end() {},
  }
}

/** The time left at the pace so far, in words; empty while there is no pace yet. */
export function timeLeft(elapsed: number, share: number): string {
  if (share <= 0 || elapsed <= 0) return ''
  const seconds = Math.ceil((elapsed * (1 - share)) / share)
  if (seconds < 60) return `${seconds} s left`
  const minutes = Math.ceil(seconds / 60)
  return minutes < 60 ? `${minutes} min left` : `${Math.floor(minutes / 60)} h ${minutes % 60} min left`
}
