import { element, found, say } from './elements.ts'

/** Colours of the page as it stands, for what is not dressed by style rules. */
export interface Scheme {
  readonly ink: string
  readonly faint: string
  readonly rule: string
  readonly paper: string
  readonly shade: string
  readonly font: string
}

const CHOICES = ['auto', 'light', 'dark'] as const
const NAMES = { auto: 'as the system has them', light: 'light', dark: 'dark' } as const
const SIGNS = { auto: '◐', light: '○', dark: '●' } as const

/** Reads the colours that hold now. */
export function schemeNow(): Scheme {
  const style = getComputedStyle(document.documentElement)
  const value = (name: string) => style.getPropertyValue(name).trim()
  return {
    ink: value('--ink'),
    faint: value('--faint'),
    rule: value('--rule'),
    paper: value('--paper'),
    shade: value('--shade'),
    font: getComputedStyle(document.body).fontFamily,
  }
}

const listeners: (() => void)[] = []

/** Calls back whenever the colours have changed. */
export function onScheme(listener: () => void): void {
  listeners.push(listener)
}

function tell(): void {
  for (const listener of listeners) listener()
}

/** Lets the reader choose the colours, and follows the system while nothing is chosen. Paper is always light. */
export function startScheme(): void {
  const button = found<HTMLButtonElement>(document, '#scheme')
  const root = document.documentElement
  let choice: (typeof CHOICES)[number] = 'auto'
  const apply = (wanted: (typeof CHOICES)[number]) => {
    if (wanted === 'auto') delete root.dataset.scheme
    else root.dataset.scheme = wanted
    tell()
  }
  const choose = (wanted: typeof choice) => {
    choice = wanted
    button.replaceChildren(element('span', { 'aria-hidden': 'true' }, SIGNS[wanted]))
    button.setAttribute('aria-label', `Colours: ${NAMES[wanted]}`)
    apply(wanted)
  }
  button.addEventListener('click', () => {
    choose(CHOICES[(CHOICES.indexOf(choice) + 1) % CHOICES.length] ?? 'auto')
    say(`Colours: ${NAMES[choice]}`)
  })
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', tell)
  addEventListener('beforeprint', () => apply('light'))
  addEventListener('afterprint', () => apply(choice))
}
