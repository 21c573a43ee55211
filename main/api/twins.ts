import { Refusal } from '../trade/refusal.ts'

/** Tables whose rows people tell apart by name alone. */
type Named = 'platter' | 'rig' | 'equipment' | 'bench' | 'finish_class' | 'price_list'

const words: Record<Named, string> = {
  platter: 'a platter',
  rig: 'a rig',
  equipment: 'a piece of equipment',
  bench: 'a bench',
  finish_class: 'a finish class',
  price_list: 'a price list',
}

/** Runs the write; a second row of the same name is refused beside the field it was typed in. */
export function namingTwin<T>(table: Named, write: () => T): T {
  try {
    return write()
  } catch (error) {
    if (error instanceof Error && error.message.includes(`UNIQUE constraint failed: ${table}.name`)) {
      throw new Refusal('name-taken', `There is already ${words[table]} of this name. Choose another name.`, {
        field: 'name',
      })
    }
    throw error
  }
}
