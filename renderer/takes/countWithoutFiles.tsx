import { useState } from 'react'
import { instantAt } from '../../main/trade/calendar.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Overrule } from '../parts/dialog.tsx'
import { DateField, TimeField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { type Plan, StandFields, standOf } from './standFields.tsx'

/** A take written down without its files: so many frames from one time to another. */
export function CountWithoutFiles({ plan, onClose }: { readonly plan: Plan; readonly onClose: () => void }) {
  const { today, timeZone } = useStudio()
  const [stand, setStand] = useState(standOf(plan))
  const wanted = plan.rows.find(({ row }) => row === stand.row)
  const [frames, setFrames] = useState<number | null>(
    wanted ? wanted.framesPerTurn + wanted.overlapFrames : null,
  )
  const [day, setDay] = useState(today)
  const [from, setFrom] = useState('')
  const [to, setTo] = useState('')
  const [isUnfinished, setUnfinished] = useState(false)
  const count = useAct((overruleReason: string | null) => {
    return api.takes.count.mutate({
      shootId: plan.shootId,
      ...stand,
      framesShot: frames ?? 0,
      startedAt: instantAt(day, minutesOf(from), timeZone).toISOString(),
      endedAt: instantAt(day, minutesOf(to), timeZone).toISOString(),
      overruleReason,
    })
  }, onClose)
  const overruled = count.refusal?.canOverrule ? count.refusal : undefined
  const lacks = (value: string | number | null, sentence: string) =>
    isUnfinished && (value === '' || value === null) ? sentence : undefined
  return (
    <>
      <Form
        refusal={overruled ? undefined : count.refusal}
        onSubmit={() => {
          if (frames === null || !day || !from || !to) setUnfinished(true)
          else count.run(null)
        }}
      >
        <StandFields plan={plan} stand={stand} onChange={setStand} />
        <FieldLine>
          <NumberField
            label="Frames shot"
            name="framesShot"
            value={frames}
            onChange={setFrames}
            width="narrow"
            refusal={lacks(frames, 'Count the files of the take.')}
          />
          <DateField label="Day" name="startedAt" value={day} onChange={setDay} max={today} />
          <TimeField
            label="First frame"
            value={from}
            onChange={setFrom}
            refusal={lacks(from, 'Read the time of the first file.')}
          />
          <TimeField
            label="Last frame"
            name="endedAt"
            value={to}
            onChange={setTo}
            refusal={lacks(to, 'Read the time of the last file.')}
          />
        </FieldLine>
        <ButtonRow>
          <Button type="submit" kind="main" busy={count.busy}>
            Write it down
          </Button>
        </ButtonRow>
      </Form>
      {overruled ? (
        <Overrule
          refusal={overruled}
          act="Write it down all the same"
          busy={count.busy}
          onOverrule={(reason) => count.run(reason)}
          onClose={count.clear}
        />
      ) : null}
    </>
  )
}

function minutesOf(time: string): number {
  const [hours = 0, minutes = 0] = time.split(':').map(Number)
  return hours * 60 + minutes
}
