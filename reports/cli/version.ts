import { readFileSync } from 'node:fs'

/** Version of the program, from its package file: two folders up in the sources, three in the package. */
export function programVersion(): string {
  for (const place of ['../../package.json', '../../../package.json']) {
    try {
      const { name, version } = JSON.parse(readFileSync(new URL(place, import.meta.url), 'utf8'))
      if (name === 'linewright') return String(version)
    } catch {
      // Not here: look in the next place.
    }
  }
  throw new Error('the package file of linewright is missing')
}
