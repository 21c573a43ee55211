/** What became of a booked block whose spins are planned on another rig, and what a person has to know of it. */
export interface BlockOnOtherRig {
  readonly bench: string
  readonly day: string
  /** Minutes since midnight at which its work begins. */
  readonly fromMinute: number
  readonly rig: string | null
  /** Names of spins that left it, since the others stay on the rig it is booked for; empty where all of it follows. */
  readonly left: readonly string[]
  /** Set change at its start, in minutes: what is booked, and what the new rig needs. */
  readonly setChange: { readonly bookedMin: number; readonly neededMin: number }
  /** What speaks against the new rig there: its platter, or equipment that is away or on another bench. */
  readonly objections: readonly string[]
}

/**
 * One sentence for each thing a person may want to put right; none where the block simply follows.
 * @param whenText  writes a day and a minute of it as it is said
 */
export function blockRigSentences(
  block: BlockOnOtherRig,
  whenText: (day: string, minute: number) => string,
): readonly string[] {
  const where = `${block.bench}, ${whenText(block.day, block.fromMinute)}`
  const { bookedMin, neededMin } = block.setChange
  const [who, wait] =
    block.left.length === 1 ? [`'${block.left[0] ?? ''}'`, 'waits'] : [`${block.left.length} spins`, 'wait']
  return [
    ...(block.left.length === 0
      ? []
      : [
          `${where}: ${who} left the block, whose other spins stand on another rig, and ${wait} for a place.`,
        ]),
    ...(bookedMin === neededMin
      ? []
      : [
          `${where}: the set change takes ${neededMin}\u00a0min now, ${bookedMin === 0 ? 'none' : `${bookedMin}\u00a0min`} is booked for it. Open the block to fit it.`,
        ]),
    ...block.objections.map((sentence) => `${where}: ${sentence}`),
  ]
}
