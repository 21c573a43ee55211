import { useState } from 'react'
import { Link } from 'react-router'
import type { BlockOnOtherRig } from '../../main/trade/blockRig.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { Form } from '../parts/form.tsx'
import { countText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Table } from '../parts/table.tsx'
import { figureName, figureText } from '../rigs/comparedWords.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import type { OtherRig, OutWork } from './otherRigs.tsx'

/** Asks before spins are planned on another rig: the caution, and every figure that differs from the planned one. */
export function RunDialog(props: {
  readonly work: OutWork
  readonly rig: OtherRig
  readonly caution: string
  readonly onTold: (blocks: readonly BlockOnOtherRig[]) => void
  readonly onClose: () => void
}) {
  const { work, rig } = props
  const say = useNotice()
  // What was asked stays, though the list behind it is answered anew.
  const [shootIds] = useState(work.shootIds)
  const spins = countText(shootIds.length, 'spin')
  const run = useAct(
    () => api.rigs.plan.mutate({ shootIds: [...shootIds], rigRevisionId: rig.rigRevisionId }),
    ({ planned, blocks }) => {
      say(`${countText(planned, 'spin')} planned on ${rig.name}.`)
      props.onTold(blocks)
      props.onClose()
    },
  )
  return (
    <Dialog wide title={`Run ${spins} on ${rig.name}?`} onClose={props.onClose}>
      <Form refusal={run.refusal} onSubmit={() => run.run()}>
        <p>{props.caution}</p>
        <p>
          A booked block follows its spins and keeps its time; what no longer fits is said. Settings stay as
          planned.
        </p>
        {work.rigRevisionId === null ? null : (
          <Differences before={work.rigRevisionId} after={rig.rigRevisionId} />
        )}
        <ButtonRow>
          <Button type="submit" kind="main" busy={run.busy}>
            {`Plan ${spins} on ${rig.name}`}
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

function Differences({ before, after }: { readonly before: number; readonly after: number }) {
  const answer = useAsk(['rigs', 'compare', before, after], () => api.rigs.compare.query({ before, after }))
  return (
    <Asked of={answer}>
      {({ figures }) => (
        <>
          <Table
            caption="What differs between the two rigs"
            rows={figures.filter(({ differs }) => differs)}
            keyOf={(figure) => figureName(figure)}
            columns={[
              { key: 'what', head: 'Differs', cell: (figure) => figureName(figure) },
              { key: 'before', head: 'As planned', cell: ({ field, before: was }) => figureText(field, was) },
              { key: 'after', head: 'Instead', cell: ({ field, after: is }) => figureText(field, is) },
            ]}
            empty={<p>Both rigs stand alike.</p>}
          />
          <p>
            <Link to={`/rigs/compare?before=${before}&after=${after}`}>Compare them in full</Link>
          </p>
        </>
      )}
    </Asked>
  )
}
