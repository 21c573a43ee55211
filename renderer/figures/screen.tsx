import type { Answers } from '../../main/api/types.ts'
import { Asked } from '../parts/asked.tsx'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { TakesCsvButton } from '../takes/takesCsv.tsx'
import { BackTestPart } from './backTest.tsx'
import { ChancesPart } from './chances.tsx'
import css from './figures.module.css'
import { HandlingPart } from './handling.tsx'
import { LessonsParts } from './lessons.tsx'
import { StepPart } from './step.tsx'
import { UnpaidReshootsPart } from './unpaidReshoots.tsx'

/** What the studio's takes have taught, beside the settings, and how close quotes come by it. */
export type Learned = Answers['figures']['learned']

/** The studio's figures. */
export function Screen() {
  const learned = useAsk(['figures', 'learned'], () => api.figures.learned.query())
  return (
    <Page
      title="Figures"
      lead="What takes have taught, and how close quotes come by it"
      acts={
        <ButtonRow>
          <TakesCsvButton />
          <ButtonLink to="/studio/times">Settings of times</ButtonLink>
        </ButtonRow>
      }
    >
      <Asked of={learned}>{(answer) => <Parts learned={answer} />}</Asked>
    </Page>
  )
}

function Parts({ learned }: { readonly learned: Learned }) {
  if (learned.step.takes === 0) {
    return (
      <Empty
        sentence="No take has taught anything yet: estimates use the studio’s settings. Turn a spin at the bench, or count a take by its files, and its pace stands here."
        act={<ButtonLink to="/bench">To the bench</ButtonLink>}
      />
    )
  }
  return (
    <div className={css.parts}>
      <BackTestPart />
      <StepPart learned={learned} />
      <HandlingPart learned={learned} />
      <ChancesPart learned={learned} />
      <LessonsParts />
      <UnpaidReshootsPart />
    </div>
  )
}
