import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import type { PageAssets } from '../html/page-html.ts'

/** Names of the files that hold the assets in the installed package. */
const SCRIPT = 'page.js'
const STYLE = 'page.css'
/** Said in every page, as the licences of the libraries inside ask. */
const BANNER =
  '/*! Contains Apache ECharts (Apache-2.0, Copyright The Apache Software Foundation) and ZRender (BSD-3-Clause, Copyright Baidu Inc.) */'

let known: Promise<PageAssets> | undefined

/**
 * Script and style of a page. In the installed package they lie ready beside the program;
 * in a checkout they are bundled from their sources.
 */
export function pageAssets(): Promise<PageAssets> {
  known ??= path.extname(fileURLToPath(import.meta.url)) === '.ts' ? bundled() : Promise.resolve(installed())
  return known
}

/** Bundles the assets and writes them where the installed program looks for them. */
export async function writePageAssets(folder: string): Promise<void> {
  const { script, style } = await bundled()
  mkdirSync(folder, { recursive: true })
  writeFileSync(path.join(folder, SCRIPT), script)
  writeFileSync(path.join(folder, STYLE), style)
}

function installed(): PageAssets {
  const read = (name: string) => readFileSync(new URL(`../browser/${name}`, import.meta.url), 'utf8')
  return { script: read(SCRIPT), style: read(STYLE) }
}

async function bundled(): Promise<PageAssets> {
  // Only a checkout gets here, so only it pays for the bundler.
  const { build } = await import('esbuild')
  const source = (name: string) => fileURLToPath(new URL(`../browser/${name}`, import.meta.url))
  const common = {
    bundle: true,
    minify: true,
    write: false,
    legalComments: 'none',
    logLevel: 'silent',
  } as const
  const [script, style] = await Promise.all([
    build({
      ...common,
      entryPoints: [source('page.ts')],
      format: 'iife',
      platform: 'browser',
      target: 'es2022',
      define: { 'process.env.NODE_ENV': '"production"' },
    }),
    build({ ...common, entryPoints: [source('page.css')] }),
  ])
  return {
    script: `${BANNER}\n${script.outputFiles[0]?.text ?? ''}`,
    style: style.outputFiles[0]?.text ?? '',
  }
}
