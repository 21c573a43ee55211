import { useState } from 'react'
import { useNavigate } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { planAddress } from '../bench/planAddress.ts'
import { Confirm } from '../parts/dialog.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'

type Block = Answers['samples']['promise']['before'][number]

/** Asks before spins whose goods are not in leave their blocks; leads to the plan of them. */
export function FreeDialog(props: { readonly blocks: readonly Block[]; readonly onClose: () => void }) {
  const go = useNavigate()
  const say = useNotice()
  // What was asked stays, though the list behind it is answered anew.
  const [blocks] = useState(props.blocks)
  const spins = blocks.reduce((sum, block) => sum + block.spins.length, 0)
  const whole = blocks.filter(({ staying }) => staying === 0).length
  const free = useAct(
    () => api.samples.freeBlocks.mutate({ bookingIds: blocks.map(({ bookingId }) => bookingId) }),
    ({ shootIds }) => {
      say(
        `${countText(shootIds.length, 'spin')} ${shootIds.length === 1 ? 'waits' : 'wait'} for a place again.`,
      )
      props.onClose()
      void go(planAddress({ shootIds: [...shootIds] }))
    },
  )
  return (
    <Confirm
      title={`Take ${countText(spins, 'spin')} off the bench?`}
      sentence={`${spins === 1 ? 'It waits' : 'They wait'} for a place again and can be planned from the day after the goods are expected. ${
        whole === 0
          ? 'Their blocks keep the other spins and their time.'
          : `${countText(whole, 'block')} with no other spin ${whole === 1 ? 'is' : 'are'} cancelled.`
      }`}
      act="Take them off"
      busy={free.busy}
      refusal={free.refusal}
      onConfirm={() => free.run()}
      onClose={props.onClose}
    />
  )
}
