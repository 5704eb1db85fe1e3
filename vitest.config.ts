import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

export default defineConfig({
  resolve: {
    // Scenario files import the package by its own name, as they do outside of it.
    alias: { linewright: fileURLToPath(new URL('./sim/line/author.ts', import.meta.url)) },
  },
  // All cores, since nothing else runs beside the tests; a test that takes minutes hangs, one of a minute may only have a slow machine.
  test: { include: ['test/**/*.test.ts'], testTimeout: 180_000, hookTimeout: 180_000, maxWorkers: '100%' },
})
