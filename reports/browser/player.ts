import type { Picture } from '../view/picture.ts'
import type { ShiftView } from '../view/shift.ts'
import { STATE_KEYS } from '../view/states.ts'
import { element, found, shape } from './elements.ts'
import { redrawOnWidth } from './picture.ts'
import { type Drawn, drawPicture, setLevel } from './picture-draw.ts'
import { clockText, type Frames, framesOf } from './shift-frames.ts'

/** Samples a second. */
const SPEEDS = [2, 5, 10, 30, 60]
const FIRST_SPEED = 10
/** Height at which the drawing gets by with fewer words [px]. */
const ROOM = 620

/** Plays the recorded stretch on a drawing of the line. */
export function startPlayer(picture: Picture, shift: ShiftView): void {
  new Player(picture, shift, framesOf(shift)).start(found(document, '#player'))
}

class Player {
  private sample = 0
  private speed = FIRST_SPEED
  private playing = false
  private drawn: Drawn | undefined
  private readonly stage = element('div', { class: 'picture', 'aria-hidden': 'true' })
  private readonly clock = element('output', { class: 'clock' })
  private readonly rate = element('span', { class: 'rate' })
  private readonly button = element('button', { type: 'button', class: 'play' }, 'Play')
  private readonly slider: HTMLInputElement
  private readonly counts = new Map<number, HTMLElement>()

  constructor(
    private readonly picture: Picture,
    private readonly shift: ShiftView,
    private readonly frames: Frames,
  ) {
    this.slider = element('input', {
      type: 'range',
      min: 0,
      max: frames.count - 1,
      step: 1,
      value: 0,
      'aria-label': 'Time within the shift',
    })
  }

  start(place: HTMLElement): void {
    const speed = element('select', { 'aria-label': 'Speed' })
    for (const one of SPEEDS) {
      const option = element('option', { value: one }, speedText(one * this.shift.everySeconds))
      option.selected = one === FIRST_SPEED
      speed.append(option)
    }
    speed.addEventListener('change', () => {
      this.speed = Number(speed.value)
    })
    this.button.addEventListener('click', () => this.toggle())
    this.slider.addEventListener('input', () => {
      this.sample = Number(this.slider.value)
      this.show()
    })
    const controls = element('div', { class: 'controls' }, this.button, this.slider, speed)
    place.append(
      element('p', { class: 'status' }, this.clock, this.rate),
      controls,
      this.stage,
      this.legend(),
    )
    redrawOnWidth(this.stage, width => {
      this.drawn = drawPicture(this.picture, width, ROOM, 'states')
      this.stage.replaceChildren(this.drawn.svg)
      this.show()
    })
  }

  /** States with the number of tools in each now. */
  private legend(): HTMLElement {
    const legend = element('p', { class: 'legend' })
    for (const { key, name } of this.shift.states) {
      const swatch = shape('svg', { width: 18, height: 12, 'aria-hidden': 'true' })
      swatch.append(shape('rect', { width: 18, height: 12, rx: 2, fill: `url(#tone-${key})` }))
      const count = element('b', { class: 'count' })
      this.counts.set(STATE_KEYS.indexOf(key), count)
      legend.append(element('span', {}, swatch, ' ', count, ` ${name}`))
    }
    return legend
  }

  private toggle(): void {
    this.playing = !this.playing
    this.button.textContent = this.playing ? 'Pause' : 'Play'
    if (!this.playing) return
    if (this.sample >= this.frames.count - 1) this.sample = 0
    let last = performance.now()
    let due = 0
    const tick = (now: number) => {
      if (!this.playing) return
      due += ((now - last) / 1000) * this.speed
      last = now
      const whole = Math.floor(due)
      due -= whole
      if (whole > 0) {
        this.sample = Math.min(this.frames.count - 1, this.sample + whole)
        this.show()
      }
      if (this.sample >= this.frames.count - 1) this.toggle()
      else requestAnimationFrame(tick)
    }
    requestAnimationFrame(tick)
  }

  private show(): void {
    const { frames, sample } = this
    const time = clockText(frames.hours(sample))
    const perHour = frames.perHour(sample)
    this.clock.textContent = time
    this.rate.textContent =
      perHour === undefined
        ? 'start of the stretch'
        : `${Math.round(perHour).toLocaleString('en')} good cells/h in the last 15 min`
    this.slider.value = String(sample)
    this.slider.setAttribute('aria-valuetext', `${time}; ${this.rate.textContent}`)
    const counts = frames.counts(sample)
    for (const [state, place] of this.counts) place.textContent = String(counts[state] ?? 0)
    this.paint()
  }

  private paint(): void {
    if (this.drawn === undefined) return
    for (const [station, rects] of this.drawn.tools) {
      const states = this.frames.states(station, this.sample)
      rects.forEach((rect, tool) => {
        const key = STATE_KEYS[states[tool] ?? 0] ?? 'productive'
        rect.setAttribute('fill', `url(#tone-${key})`)
      })
    }
    for (const vessel of this.drawn.vessels) {
      const { name, turn, capacity } = vessel.item
      const level = this.frames.level(name, turn, this.sample)
      setLevel(vessel, capacity === undefined ? level / this.most(name, turn) : level / Math.max(1, capacity))
    }
  }

  private readonly mosts = new Map<string, number>()

  /** An unlimited store is drawn against the most that it held. */
  private most(name: string, turn: number): number {
    const key = `${turn} ${name}`
    const known = this.mosts.get(key)
    if (known !== undefined) return known
    let most = 1
    for (let s = 0; s < this.frames.count; s++) most = Math.max(most, this.frames.level(name, turn, s))
    this.mosts.set(key, most)
    return most
  }
}

function speedText(seconds: number): string {
  if (seconds < 60) return `${Math.round(seconds * 10) / 10} s a second`
  const minutes = seconds / 60
  return `${Number.isInteger(minutes) ? minutes : minutes.toFixed(1)} min a second`
}
