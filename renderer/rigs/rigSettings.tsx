import { useState } from 'react'
import { settingsFacts } from '../../main/trade/rigFacts.ts'
import { settingsLine } from '../../main/trade/settings.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { FieldLine, FormRefusal } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Fact, Part, Sheet } from '../parts/page.tsx'
import { api, useAct } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { SettingsDialog, type WholeSettings } from './settingsDialog.tsx'

/**
 * What is dialled on a rig: the settings that were used on it or written beside it, one of them shown, new ones from
 * it, and both printed as the rebuild sheet.
 */
export function RigSettings(props: {
  readonly rigId: number
  readonly rigRevisionId: number
  readonly all: readonly WholeSettings[]
  readonly shown: WholeSettings | undefined
  readonly show: (settingsId: number) => void
}) {
  const { all, shown } = props
  const say = useNotice()
  const [isDialling, setDialling] = useState(false)
  const print = useAct(
    (paper: 'A4' | 'Letter') =>
      api.prints.rebuildSheet.mutate({
        rigRevisionId: props.rigRevisionId,
        settingsId: shown?.id ?? null,
        paper,
      }),
    ({ paperId }) => openPaper(paperId),
  )
  const writeNew = (
    <Button onClick={() => setDialling(true)}>
      {shown ? 'New settings from these' : 'Write down settings'}
    </Button>
  )
  return (
    <Part title="Settings">
      {shown ? (
        <>
          <FieldLine>
            <SelectField
              label="Dialled on it, the newest first"
              width="wide"
              value={String(shown.id)}
              options={all.map((settings) => ({ value: String(settings.id), label: settingsLine(settings) }))}
              onChange={(id) => props.show(Number(id))}
            />
          </FieldLine>
          <Sheet>
            {settingsFacts(shown).map(({ label, value }) => (
              <Fact key={label} label={label}>
                {value}
              </Fact>
            ))}
          </Sheet>
        </>
      ) : (
        <Empty sentence="Nothing is dialled on this rig yet. Another focus, aperture or frame count is new settings; the rig stays the same." />
      )}
      <ButtonRow>
        {writeNew}
        <Button busy={print.busy} onClick={() => print.run('A4')}>
          Print the rebuild sheet, A4
        </Button>
        <Button busy={print.busy} onClick={() => print.run('Letter')}>
          On Letter
        </Button>
      </ButtonRow>
      {print.refusal ? <FormRefusal sentence={print.refusal.sentence} /> : null}
      {isDialling ? (
        <SettingsDialog
          rigId={props.rigId}
          from={shown}
          onKept={(settingsId) => {
            setDialling(false)
            say('The settings are kept.')
            props.show(settingsId)
          }}
          onClose={() => setDialling(false)}
        />
      ) : null}
    </Part>
  )
}
