import { useState } from 'react'
import { useNavigate } from 'react-router'
import { type FaultAct, faultRules } from '../../main/trade/benchFaults.ts'
import { type FaultKind, faultKinds } from '../../main/trade/takes.ts'
import { Dialog } from '../parts/dialog.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { capital, numberText } from '../parts/format.ts'
import { api, useAct } from '../shell/api.ts'
import { thisDevice } from './benchDevice.ts'
import type { BenchQueue } from './benchQueue.ts'
import css from './turning.module.css'
import { useDigits } from './turningBack.tsx'
import { BenchButton } from './turningButtons.tsx'
import type { TakePage } from './turningState.ts'

/**
 * What went wrong, by a digit or a press, and then what to do about it. The fault is written down as soon as its
 * kind is named: what is done next may take a while.
 * @param first  the kind, where a digit named it already and the fault is written down
 */
export function FaultDialog(props: {
  readonly page: TakePage
  readonly queue: BenchQueue
  readonly first: FaultKind | undefined
  readonly onClose: () => void
}) {
  const { queue } = props
  // The frame at which it happened, though more may be shot while the dialog is open.
  const [frame] = useState(queue.ahead.lastGood ?? null)
  const [kind, setKind] = useState(props.first)
  const name = (one: FaultKind) => {
    if (kind !== undefined) return
    queue.act({ kind: 'fault', fault: one, frame, note: null, isVoid: false })
    setKind(one)
  }
  const where = frame === null ? '' : ` at frame ${numberText(frame)}`
  return (
    <Dialog title={kind ? `${capital(kind)}${where}` : `A fault${where}`} onClose={props.onClose} wide>
      {kind ? <WhatToDo {...props} kind={kind} frame={frame} /> : <Kinds onKind={name} />}
    </Dialog>
  )
}

function Kinds({ onKind }: { readonly onKind: (kind: FaultKind) => void }) {
  useDigits((digit) => {
    const kind = faultKinds[digit - 1]
    if (kind) onKind(kind)
  })
  return (
    <div className={css.kinds}>
      {faultKinds.map((kind, index) => (
        <BenchButton key={kind} word={kind} hint={String(index + 1)} onPress={() => onKind(kind)} />
      ))}
    </div>
  )
}

function WhatToDo(props: {
  readonly page: TakePage
  readonly queue: BenchQueue
  readonly kind: FaultKind
  readonly frame: number | null
  readonly onClose: () => void
}) {
  const { page, queue, kind, frame, onClose } = props
  const navigate = useNavigate()
  const again = useAct(
    async () => {
      await queue.whenSent()
      return api.takes.again.mutate({ takeId: page.take.id, reason: kind, holder: thisDevice() })
    },
    ({ takeId }) => navigate(`/takes/${takeId}`, { replace: true }),
  )
  const { whatToDo, acts } = faultRules[kind]
  const mark = frame === null ? undefined : (page.frames[frame - 1]?.mark ?? queue.ahead.nextMark - 1)
  const offered = acts.filter((act) => mark !== undefined || act === 'again' || act === 'go on')
  const run = (act: FaultAct) => {
    if (act === 'again') return again.run()
    if (act === 'back' && mark !== undefined) queue.act({ kind: 'back', mark })
    if (act === 'void' && frame !== null) queue.act({ kind: 'void', frame })
    onClose()
  }
  const word: Readonly<Record<FaultAct, string>> = {
    back: mark === undefined ? '' : `Back to mark ${numberText(mark + 1)}, ${readingText(page, mark)}`,
    void: frame === null ? '' : `Void frame ${numberText(frame)} and shoot it again`,
    again: 'Reject the take and start over',
    'go on': 'Go on as it is',
  }
  useDigits((digit) => {
    const act = offered[digit - 1]
    if (act) run(act)
  })
  return (
    <>
      <p className={css.whatToDo}>{whatToDo}</p>
      {again.refusal ? <FormRefusal sentence={again.refusal.sentence} /> : null}
      <div className={css.choices}>
        {offered.map((act, index) => (
          <BenchButton
            key={act}
            word={word[act]}
            hint={String(index + 1)}
            main={index === 0}
            isOff={act === 'again' && queue.isCut}
            onPress={() => run(act)}
          />
        ))}
      </div>
    </>
  )
}

function readingText(page: TakePage, mark: number): string {
  return `${numberText(page.marksMm[mark % page.marksMm.length] ?? 0, 4)}\u00a0mm`
}
