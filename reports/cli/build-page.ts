import { fileURLToPath } from 'node:url'
import { writePageAssets } from './page-assets.ts'

// Part of the build: script and style of the pages, ready for the installed program.
await writePageAssets(fileURLToPath(new URL('../../dist/reports/browser', import.meta.url)))
