import { Asked } from '../parts/asked.tsx'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useCheck } from './checkOfTake.ts'
import { ContactSpin } from './contactSpin.tsx'

/** What a take looked like: its small frames, which the studio keeps also when the drive is gone. */
export function LookDialog(props: {
  readonly takeId: number
  readonly number: number
  readonly onClose: () => void
}) {
  const { takeId, number } = props
  const check = useCheck(takeId)
  return (
    <Dialog title={`What take ${number} looks like`} wide onClose={props.onClose}>
      <Asked of={check}>
        {({ strip, playing }) =>
          strip ? (
            <ContactSpin strip={strip} label={`Take ${number}`} direction={playing.direction} />
          ) : (
            <p>
              No small frames of this take are kept. They are kept once its pictures are checked and it is
              kept itself.
            </p>
          )
        }
      </Asked>
      <ButtonRow>
        <ButtonLink to={`/takes/${takeId}/check`}>Check its pictures</ButtonLink>
      </ButtonRow>
    </Dialog>
  )
}
