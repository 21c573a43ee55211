import type { Asks } from '../../main/api/types.ts'
import { shown } from '../../main/trade/measures.ts'
import { closesForEachFrame } from '../../main/trade/settings.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { api, useAct } from '../shell/api.ts'

type Held = Asks['settings']['add']['apertureHeld']

const holds: readonly { readonly value: Held; readonly label: string }[] = [
  { value: 'ring', label: 'By the lens’s own ring' },
  { value: 'held', label: 'Held closed on the unlatched lens' },
  { value: 'wide open', label: 'Wide open, so never closed' },
  { value: 'each frame', label: 'Closed anew for each frame' },
]

interface RowValue {
  readonly viewAngleDeg: number
  readonly framesPerTurn: number | null
  readonly overlapFrames: number | null
}

/** Writes down settings: what is dialled. They are kept for good; another value makes new ones. */
export function SettingsDialog(props: {
  /** Frames to start from: those of the spin that is planned. */
  readonly rows: readonly RowValue[]
  readonly onKept: (settingsId: number) => void
  readonly onClose: () => void
}) {
  const { values, set } = useDraft({
    rows: props.rows,
    focusUm: null as number | null,
    apertureCenti: 1100 as number | null,
    apertureHeld: 'each frame' as Held,
    shutterNum: 1 as number | null,
    shutterDen: 125 as number | null,
    iso: 100 as number | null,
    whiteBalanceK: null as number | null,
    development: '',
    note: '',
  })
  const save = useAct(
    // Empty figures of a row go as they are; the studio says what it cannot do without.
    () => api.settings.add.mutate(shown(values) as unknown as Asks['settings']['add']),
    ({ settingsId }) => props.onKept(settingsId),
  )
  return (
    <Dialog title="New settings" onClose={props.onClose}>
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        {values.rows.map((row, index) => (
          <FieldLine key={row.viewAngleDeg}>
            <NumberField
              label={values.rows.length > 1 ? `Frames per turn, row ${index + 1}` : 'Frames per turn'}
              name={`rows.${index}.framesPerTurn`}
              value={row.framesPerTurn}
              onChange={(framesPerTurn) => set('rows')(values.rows.with(index, { ...row, framesPerTurn }))}
            />
            <NumberField
              label="Overlap"
              unit="frames"
              name={`rows.${index}.overlapFrames`}
              value={row.overlapFrames}
              onChange={(overlapFrames) => set('rows')(values.rows.with(index, { ...row, overlapFrames }))}
            />
          </FieldLine>
        ))}
        <FieldLine>
          <NumberField
            label="Aperture, f/"
            places={2}
            name="apertureCenti"
            value={values.apertureCenti}
            onChange={set('apertureCenti')}
          />
          <SelectField
            label="How the aperture is held"
            name="apertureHeld"
            value={values.apertureHeld}
            options={holds}
            onChange={set('apertureHeld')}
          />
        </FieldLine>
        {closesForEachFrame(values) ? (
          <p>
            A lens that closes anew for every frame varies a little from frame to frame; watch for flicker.
          </p>
        ) : null}
        {values.apertureHeld === 'held' ? (
          <p>
            An unlatched lens is held by nothing: it can turn off the mount and fall. Hold it while you do it,
            and latch it before the camera is moved. The lens maker’s instructions come first.
          </p>
        ) : null}
        <FieldLine>
          <NumberField
            label="Shutter"
            name="shutterNum"
            value={values.shutterNum}
            onChange={set('shutterNum')}
          />
          <NumberField
            label="divided by"
            unit="s"
            name="shutterDen"
            value={values.shutterDen}
            onChange={set('shutterDen')}
          />
          <NumberField label="ISO" name="iso" value={values.iso} onChange={set('iso')} />
          <NumberField
            label="White balance"
            unit="K"
            name="whiteBalanceK"
            value={values.whiteBalanceK}
            onChange={set('whiteBalanceK')}
          />
          <LengthField
            kept="um"
            label="Focus at"
            name="focusMm"
            value={values.focusUm}
            onChange={set('focusUm')}
          />
        </FieldLine>
        <TextField
          label="Development"
          name="development"
          hint="The recipe in the raw converter."
          value={values.development}
          onChange={set('development')}
        />
        <TextArea label="Note" name="note" rows={2} value={values.note} onChange={set('note')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            Keep these settings
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}
