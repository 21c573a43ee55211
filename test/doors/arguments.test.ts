import { resolve } from 'node:path'
import { expect, it } from 'vitest'
import { ownStudio, readArguments, studioArgument } from '../../main/doors/arguments.ts'

it('opens the user’s own studio on port 7360 where nothing else is said', () => {
  expect(readArguments([])).toEqual({ demo: false, open: true, studio: ownStudio(), port: 7360 })
})

it('reads folder, port, demo and no-open', () => {
  expect(readArguments(['--demo', '--no-open', '--studio', 'here', '--port=8000'])).toEqual({
    demo: true,
    open: false,
    studio: resolve('here'),
    port: 8000,
  })
})

it('refuses a word it does not know and a port that is none', () => {
  expect(() => readArguments(['--colour'])).toThrow(/--colour.*Known are/)
  expect(() => readArguments(['--port', '70000'])).toThrow('70000, is not a whole number from 1 to 65535')
})

it('finds the folder among Chromium’s own switches', () => {
  expect(studioArgument(['--no-sandbox', '.', '--remote-debugging-port=0', '--studio', 'here'])).toBe(
    resolve('here'),
  )
  expect(studioArgument(['--inspect=0', '.'])).toBe(ownStudio())
})
