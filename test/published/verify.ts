import { verify } from './verify-command.ts'
import { ENTRIES } from './verify-entries.ts'

/** `npm run verify`: all published checks at full length, some minutes. */

const { stdout, stderr } = process
const CLEAR_LINE = '\r\u001b[K'
const progress = {
  show: (text: string) => stderr.write(`${CLEAR_LINE}${text}`),
  clear: () => stderr.write(CLEAR_LINE),
}

process.exitCode = await verify(process.argv.slice(2), ENTRIES, {
  out: stdout,
  ...(stderr.isTTY && { progress }),
  seconds: () => performance.now() / 1000,
})
