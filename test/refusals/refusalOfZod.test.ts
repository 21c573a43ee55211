import { describe, expect, it } from 'vitest'
import * as z from 'zod'
import { idOf, text } from '../../main/api/kit.ts'
import { refusalOfZod } from '../../main/api/refusalOfZod.ts'

const Input = z.object({
  name: text('The name'),
  clientId: idOf('client', 'Choose whose it is.'),
  frames: z.int().min(2).max(1000),
  spins: z.array(z.int()).min(1),
  kind: z.enum(['loop', 'set']),
  note: z.string().max(5),
})
const good = { name: 'Vase', clientId: 1, frames: 24, spins: [1], kind: 'loop', note: '' }

function refused(wrong: Record<string, unknown>) {
  const { error } = Input.safeParse({ ...good, ...wrong })
  if (!error) throw new Error('The input was taken.')
  return refusalOfZod(error)
}

describe('input that a call cannot take', () => {
  it('is refused at the first field that is wrong, in the schema’s own sentence where it has one', () => {
    expect(refused({ frames: null, name: ' ' })).toMatchObject({
      field: 'name',
      sentence: 'The name is empty. Type it in.',
    })
    expect(refused({ clientId: 0 })).toMatchObject({ field: 'clientId', sentence: 'Choose whose it is.' })
  })

  it.each([
    ['frames', null, 'This is empty or cannot be read. Enter it.'],
    ['frames', Number.NaN, 'This is empty or cannot be read. Enter it.'],
    ['frames', 2.5, 'This must be a whole number. Enter it without decimals.'],
    ['frames', 1, 'This is too little. Enter more.'],
    ['frames', 1001, 'This is too much. Enter less.'],
    ['spins', [], 'Nothing is chosen here. Choose at least one.'],
    ['kind', '', 'This is not one of the choices. Choose one of them.'],
    ['note', 'too long', 'This text is longer than 5 characters. Shorten it.'],
  ])('says in plain words what is wrong with %s: %j', (field, value, sentence) => {
    expect(refused({ [field]: value })).toMatchObject({ field, sentence })
  })
})
