import type { ReactNode } from 'react'
import { Asked } from '../parts/asked.tsx'
import { ButtonLink } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { Empty } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import type { Plan } from './standFields.tsx'

/** A dialog about a take of a spin, with what it would start with; says what must be written down first. */
export function PlannedTake(props: {
  readonly title: string
  readonly shootId: number
  readonly onClose: () => void
  readonly children: (plan: Plan) => ReactNode
}) {
  const { shootId } = props
  const plan = useAsk(['takes', 'plan', shootId], () => api.takes.plan.query({ shootId }))
  return (
    <Dialog title={props.title} onClose={props.onClose} wide>
      <Asked of={plan}>
        {(data) =>
          data.rigs.length === 0 || data.settings.length === 0 ? (
            <Empty
              sentence={
                data.rigs.length === 0
                  ? 'No rig is in the library yet. Write down what stands on the bench first.'
                  : 'No settings are written down yet. Write down what is dialled first, on the page of the rig.'
              }
              act={<ButtonLink to="/rigs">Go to the rigs</ButtonLink>}
            />
          ) : (
            props.children(data)
          )
        }
      </Asked>
    </Dialog>
  )
}
