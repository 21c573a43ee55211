import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { reasonText } from '../../main/trade/rigRanking.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button } from '../parts/button.tsx'
import { countText, massText } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import css from './rigRanked.module.css'
import { useDayOf } from './whatWorked.tsx'

export type Ranking = Answers['rigEvidence']['forSpins']
export type RankedRig = Ranking['offered'][number]

/** A rig choice: what it is chosen for, which revision is chosen already, and what choosing does. */
interface ChoiceProps {
  readonly chosen?: number | undefined
  /** Without it the rigs are links to their pages. */
  readonly onChoose?: (rig: RankedRig) => void
}

/** Which rig for these spins: the library ranked by what clients approved on products like theirs. */
export function RigsForSpins({
  shootIds,
  ...choice
}: { readonly shootIds: readonly number[] } & ChoiceProps) {
  const ranking = useAsk(['rigEvidence', 'forSpins', shootIds], () =>
    api.rigEvidence.forSpins.query({ shootIds: [...shootIds] }),
  )
  return <Asked of={ranking}>{(data) => <RankedRigs ranking={data} {...choice} />}</Asked>
}

/** Which rig for this product. */
export function RigsForProduct({ productId }: { readonly productId: number }) {
  const ranking = useAsk(['rigEvidence', 'forProduct', productId], () =>
    api.rigEvidence.forProduct.query({ productId }),
  )
  return <Asked of={ranking}>{(data) => <RankedRigs ranking={data} />}</Asked>
}

const shownAtFirst = 3

function RankedRigs({ ranking, chosen, onChoose }: { readonly ranking: Ranking } & ChoiceProps) {
  const { wanted, offered, tooWeak } = ranking
  const [isAll, setAll] = useState(false)
  const dayOf = useDayOf()
  if (offered.length === 0 && tooWeak.length === 0) {
    return <p className={words.quiet}>No rig is written down yet.</p>
  }
  return (
    <div className={css.ranked}>
      {wanted.of > 1 ? (
        <p className={words.quiet}>
          {`Ranked for the ${wanted.finish} ones, ${wanted.alike} of ${countText(wanted.of, 'spin')}${wanted.loadG === null ? '' : `; the heaviest weighs ${massText(wanted.loadG)}`}.`}
        </p>
      ) : null}
      <ol className={css.list}>
        {(isAll ? offered : offered.slice(0, shownAtFirst)).map((rig) => (
          <li key={rig.rigId}>
            <div>
              <Link to={`/rigs/${rig.rigId}`}>{rig.name}</Link>
              <span className={words.quiet}>{`, revision ${rig.revision}`}</span>
              <p>{`${reasonText(rig.reason, wanted.finish, dayOf)}${rig.reason ? '.' : ''}`}</p>
              <LoadCaution rig={rig} loadG={wanted.loadG} />
            </div>
            {onChoose ? (
              <Button
                aria-pressed={rig.rigRevisionId === chosen}
                aria-label={`Choose ${rig.name}`}
                onClick={() => onChoose(rig)}
              >
                {rig.rigRevisionId === chosen ? 'Chosen' : 'Choose'}
              </Button>
            ) : null}
          </li>
        ))}
      </ol>
      {offered.length > shownAtFirst && !isAll ? (
        <Button kind="quiet" onClick={() => setAll(true)}>
          {`Show all ${offered.length}`}
        </Button>
      ) : null}
      {tooWeak.map((rig) => (
        <p key={rig.rigId} className={words.quiet}>
          {`Left out: ${rig.name}. Its platter, ${rig.platterName}, carries ${massText(rig.loadLimitG ?? 0)}, and this weighs ${massText(wanted.loadG ?? 0)}. Choose another platter, or correct the mass.`}
        </p>
      ))}
    </div>
  )
}

/** An unknown mass or limit keeps no rig away; it is said, so that it is weighed or looked up first. */
function LoadCaution({ rig, loadG }: { readonly rig: RankedRig; readonly loadG: number | null }) {
  if (rig.loadLimitG === null) {
    return (
      <p className={words.quiet}>
        {`The load limit of ${rig.platterName} is not written down. Look it up in its maker’s papers first.`}
      </p>
    )
  }
  if (loadG !== null) return null
  return (
    <p className={words.quiet}>
      {`Not weighed yet: weigh it first. ${rig.platterName} carries ${massText(rig.loadLimitG)}, by its maker.`}
    </p>
  )
}
