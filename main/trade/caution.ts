/** A usual caution where work can hurt. It defers to makers and to local codes and gives no figures of its own. */
export interface Caution {
  readonly about: 'lamps' | 'cables' | 'stands' | 'load' | 'lens' | 'lifting' | 'batteries'
  readonly sentence: string
  /** What to read first. */
  readonly pointer: string
}

/** Building or changing a rig. */
export const rigCautions: readonly Caution[] = [
  {
    about: 'lamps',
    sentence: 'Lamps and what is near them stay hot after they are off; keep the clearances the maker gives.',
    pointer: 'The lamp maker’s instructions; IEC 60598-2-17 for studio luminaires.',
  },
  {
    about: 'cables',
    sentence: 'Tape cables down or lead them overhead, and keep the turning platter clear of them.',
    pointer: 'Your local electrical code first; a licensed electrician for anything fixed.',
  },
  {
    about: 'stands',
    sentence: 'Weight every stand at its foot, and the more the higher or further out its lamp hangs.',
    pointer: 'The stand maker’s rating and instructions.',
  },
  {
    about: 'lens',
    sentence:
      'A lens unlatched to hold its aperture is held by nothing: it can turn off the mount and fall. Hold it while you do it, keep it level, and latch it before the camera is moved.',
    pointer: 'The lens maker’s instructions; use an aperture ring where the lens has one.',
  },
]

/** Putting something on a platter. */
export const loadCautions: readonly Caution[] = [
  {
    about: 'load',
    sentence: 'A platter carries what its maker says, in the middle; a load off the axis counts for more.',
    pointer: 'The platter maker’s load limit and instructions.',
  },
  {
    about: 'lifting',
    sentence: 'Lift heavy or fragile goods with a second person or a lifting aid.',
    pointer: 'Your local rules on manual handling, such as HSE INDG143 in Great Britain.',
  },
]
