import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

const css = readFileSync(new URL('../../renderer/look/tokens.css', import.meta.url), 'utf8')

/** The colour tokens of one light, by name without the dashes. */
function coloursOf(selector: string): Map<string, string> {
  const start = css.indexOf(`${selector} {`)
  const block = css.slice(start, css.indexOf('}', start))
  return new Map(
    [...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map((match) => [match[1] ?? '', match[2] ?? '']),
  )
}

/** Relative luminance (WCAG 2.2, 'relative luminance'). */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

/** Contrast ratio (WCAG 2.2, 'contrast ratio'). */
function contrast(a: string, b: string): number {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y)
  return (light + 0.05) / (dark + 0.05)
}

it('measures black on white as 21 to 1', () => {
  // WCAG 2.2, 'contrast ratio': ratios range from 1 to 21.
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9)
})

describe.each([':root', '[data-light="bench"]'])('the colours of %s', (selector) => {
  const colours = coloursOf(selector)
  const between = (a: string, b: string) => contrast(colours.get(a) ?? '', colours.get(b) ?? '')
  const grounds = ['ground', 'sheet', 'well']

  it('are all there', () => {
    // A square code keeps its two in every light: a camera must read it.
    const changing = [...coloursOf(':root').keys()].filter((name) => !name.startsWith('code-'))
    expect([...colours.keys()].filter((name) => !name.startsWith('code-')).sort()).toEqual(changing.sort())
    expect(colours.size).toBeGreaterThan(10)
  })

  // WCAG 2.2, 1.4.3 (AA): text 4.5 to 1.
  it.each(['ink', 'ink-2', 'ochre-ink', 'red'])('make words in %s readable on every ground', (ink) => {
    for (const ground of grounds) expect(between(ink, ground)).toBeGreaterThanOrEqual(4.5)
  })

  it('make the main button’s words readable', () => {
    expect(between('on-tape', 'tape')).toBeGreaterThanOrEqual(4.5)
  })

  // WCAG 2.2, 1.4.11 (AA): edges of fields and parts of drawings 3 to 1 against what is beside them.
  it.each(['rule-strong', 'ochre'])('let %s be found on the page and on a sheet', (line) => {
    for (const ground of ['ground', 'sheet']) expect(between(line, ground)).toBeGreaterThanOrEqual(3)
  })
})
