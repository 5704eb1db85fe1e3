import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

export default defineConfig({
  resolve: {
    // Scenario files import the package by its own name, as they do outside of it.
    alias: { linewright: fileURLToPath(new URL('./sim/line/author.ts', import.meta.url)) },
  },
  test: { include: ['test/**/*.test.ts'], testTimeout: 60_000 },
})
