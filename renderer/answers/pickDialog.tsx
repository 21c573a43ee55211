import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { CheckField, SelectField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { instantText } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { Ring } from '../parts/ring.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { Item, JobAnswersData } from './itemWords.ts'

interface Start {
  /** Null while the field is empty. */
  readonly startFrame: number | null
  readonly reversed: boolean
}

const fromTheFirst: Start = { startFrame: 1, reversed: false }

/** Chooses the take of one row for a deliverable, where its turn starts and which way it runs. */
export function PickDialog(props: {
  readonly data: JobAnswersData
  readonly item: Item
  readonly onClose: () => void
}) {
  const { data, item, onClose } = props
  const { timeZone } = useStudio()
  const takes = data.takes.filter(({ shootId }) => shootId === item.shootId)
  const [first] = takes
  const before = item.picks[0]
  const [takeId, setTakeId] = useState(before?.takeId ?? first?.takeId)
  // What was picked before stands; else what a person chose where the take is looked at, until something is said here.
  const [said, setSaid] = useState<Start | undefined>(before)
  const chosen = takes.find((one) => one.takeId === takeId)?.chosen ?? null
  const { startFrame, reversed } = said ?? chosen ?? fromTheFirst
  const [isForAll, setForAll] = useState(false)
  const pick = useAct(
    (id: number) =>
      api.picks.pick.mutate({
        takeId: id,
        deliverableIds: isForAll ? null : [item.deliverableId],
        startFrame: startFrame ?? 1,
        reversed,
      }),
    onClose,
  )
  const take = takes.find((one) => one.takeId === takeId)
  if (!take) {
    return (
      <Dialog title={`Pick for ${item.spin}`} onClose={onClose}>
        <Empty sentence="No take of it is kept yet. Keep one first." />
      </Dialog>
    )
  }
  return (
    <Dialog title={`Pick for the ${item.deliverable} of ${item.spin}`} onClose={onClose}>
      <Form refusal={pick.refusal} onSubmit={() => pick.run(take.takeId)}>
        <FieldLine>
          <SelectField
            label="Take"
            name="takeId"
            value={String(take.takeId)}
            options={takes.map((one) => ({
              value: String(one.takeId),
              label: `${takes.some(({ row }) => row !== one.row) ? `row ${one.row}, ` : ''}take ${one.number}, ${instantText(one.startedAt, timeZone)}`,
            }))}
            onChange={(value) => setTakeId(takes.find((one) => String(one.takeId) === value)?.takeId)}
          />
          <NumberField
            label="Start frame"
            name="startFrame"
            value={startFrame}
            onChange={(start) => setSaid({ startFrame: start, reversed })}
            width="narrow"
            hint={`1 to ${take.framesPerTurn}`}
          />
        </FieldLine>
        <Ring
          size={200}
          framesPerTurn={take.framesPerTurn}
          done={take.framesPerTurn}
          underPointer={Math.min(Math.max(startFrame ?? 1, 1), take.framesPerTurn)}
          centre={{ figure: String(startFrame ?? 1), word: reversed ? 'first, backwards' : 'comes first' }}
          label="The turn from its start frame"
        />
        <CheckField
          label="Turn backwards"
          checked={reversed}
          onChange={(isBackwards) => setSaid({ startFrame, reversed: isBackwards })}
        />
        {chosen && (chosen.startFrame !== startFrame || chosen.reversed !== reversed) ? (
          <ButtonRow>
            <Button kind="quiet" onClick={() => setSaid(undefined)}>
              {`Begin at frame ${chosen.startFrame}${chosen.reversed ? ', backwards' : ''}, as it was looked at`}
            </Button>
          </ButtonRow>
        ) : null}
        <CheckField
          label="The same for every deliverable of this spin"
          checked={isForAll}
          onChange={setForAll}
        />
        <ButtonRow>
          <Button type="submit" kind="main" busy={pick.busy}>
            Pick it
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
