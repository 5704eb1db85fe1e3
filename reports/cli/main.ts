#!/usr/bin/env node
import { availableParallelism } from 'node:os'
import { EXIT, explain, interrupted } from './failure.ts'
import { openFile } from './open.ts'
import type { Surroundings } from './surroundings.ts'

let stopWanted = false

// FORCE_COLOR decides when both are set (`colour.ts`). Node says so in a warning of its own as soon as one of its
// modules asks for colours, which those of the command line do when they are loaded: so they are loaded afterwards.
if (process.env.FORCE_COLOR !== undefined) delete process.env.NO_COLOR

const surroundings: Surroundings = {
  stdout: process.stdout,
  stderr: process.stderr,
  env: process.env,
  args: process.argv.slice(2),
  cores: availableParallelism(),
  open: openFile,
  seconds: () => performance.now() / 1000,
  heedInterrupts() {
    const stop = () => {
      stopWanted = true
    }
    // Once only: a second Ctrl-C ends the process at once.
    process.once('SIGINT', stop)
    return () => process.removeListener('SIGINT', stop)
  },
  async breathe() {
    await new Promise(resolve => setImmediate(resolve))
    if (stopWanted) throw interrupted()
  },
}

// A reader that has seen enough, such as head, closes the pipe: no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit()
  process.stderr.write(`cannot write the results: ${error.message}\n`)
  process.exit(EXIT.failed)
})
// Where messages cannot be heard there is nobody to tell.
process.stderr.on('error', () => {})

process.on('uncaughtException', error => {
  const { text } = explain(error, process.env)
  process.stderr.write(`${text}\n`)
  process.exit(EXIT.internal)
})

const { commandLine } = await import('./command-line.ts')

// Not process.exit(): what is still on its way into a pipe would be lost.
process.exitCode = await commandLine(surroundings)
