import { useState } from 'react'
import { pointerDeg } from '../../main/trade/check/centre/nudge.ts'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine, Form, FormRefusal } from '../parts/form.tsx'
import type { AidOf, AidStand } from './aidPage.tsx'
import css from './aids.module.css'
import { tapeOf } from './centreAid.tsx'
import { CentreRing } from './centreRing.tsx'
import { CentreTold, nudgeOnRing } from './centreTold.tsx'
import { PointerField, usePointer } from './pointerField.tsx'
import { readExtremes, type TypedExtremes } from './twoReadings.ts'

const nothing: TypedExtremes = { leftUm: null, leftMark: null, rightUm: null, rightMark: null }

const legends = { left: 'Farthest left, seen from the camera', right: 'Farthest right' } as const

/**
 * Centring by hand: a rule stands still before the platter, the product's edge is read where it comes farthest to the
 * left and farthest to the right, each with the mark under the pointer.
 */
export function ByHand({ of, about }: { readonly of: AidOf; readonly about: AidStand }) {
  const [typed, setTyped] = useState(nothing)
  const pointer = usePointer(of, about)
  const read = readExtremes(typed, about, pointerDeg[pointer.side])
  const set = (name: keyof TypedExtremes) => (value: number | null) => setTyped({ ...typed, [name]: value })
  return (
    <div className={css.two}>
      <CentreRing
        size={420}
        framesPerTurn={about.framesPerTurn}
        tape={tapeOf(about)}
        shotAt={[]}
        nudge={read.found && nudgeOnRing(read.found)}
        label="The platter from above"
      />
      <div className={css.side}>
        <p>
          Lay a rule across behind or before the platter, so that it stands still. Turn slowly and watch one
          edge of the product against it, always from the camera’s place. Read where that edge comes farthest
          to the left and farthest to the right, with the mark under the pointer each time.
        </p>
        <Form label="Two readings" onSubmit={() => {}}>
          <PointerField value={pointer.side} onChange={pointer.say} />
          <div className={css.readings}>
            {(['left', 'right'] as const).map((side) => (
              <FieldGroup key={side} legend={legends[side]}>
                <FieldLine>
                  <NumberField
                    label="On the rule"
                    unit="mm"
                    places={3}
                    value={typed[`${side}Um`]}
                    onChange={set(`${side}Um`)}
                  />
                  <NumberField label="At mark" value={typed[`${side}Mark`]} onChange={set(`${side}Mark`)} />
                </FieldLine>
              </FieldGroup>
            ))}
          </div>
        </Form>
        {read.sentence ? <FormRefusal sentence={read.sentence} /> : null}
        {read.found ? (
          <CentreTold found={read.found} about={about} by="by two readings of half a millimetre each" />
        ) : null}
      </div>
    </div>
  )
}
