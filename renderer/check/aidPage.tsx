import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { loadCautions, rigCautions } from '../../main/trade/caution.ts'
import { Asked } from '../parts/asked.tsx'
import { api, useAsk } from '../shell/api.ts'
import turning from '../takes/turning.module.css'
import { type AidName, aidNames, aidWords } from './aidAddress.ts'
import css from './aids.module.css'
import { CentreAid } from './centreAid.tsx'
import { MatchAid } from './matchAid.tsx'
import { WhiteAid } from './whiteAid.tsx'

/** What the studio knows that the helps go by. */
export type AidStand = Answers['checkAids']['stand']

/** On what the spin is about to be turned, as the page before the take has it chosen. */
export interface AidOf {
  readonly shootId: number
  readonly row: number
  readonly rigRevisionId: number | null
  readonly settingsId: number | null
  readonly benchId: number | null
}

/** What each help is handed: the folder it looks in, and how it is named. */
export interface AidProps {
  readonly of: AidOf
  readonly folder: string | undefined
  readonly offered: string
  readonly onFolder: (folder: string) => void
}

/** The ways from the page before a take to its helps. */
export function AidLinks({ here }: { readonly here?: AidName }) {
  return (
    <nav className={css.links} aria-label="Helps before the take">
      {aidNames.map((name) => (
        <Link
          key={name}
          className={turning.headAct}
          aria-current={name === here ? 'page' : undefined}
          to={`?aid=${name}`}
          replace={here !== undefined}
        >
          {aidWords[name].word}
        </Link>
      ))}
    </nav>
  )
}

/** One help over the whole page: nothing but the pointer's place and what is to stand on the axis is written down, and what was chosen before the take stays chosen. */
export function AidPage(props: {
  readonly aid: AidName
  readonly of: AidOf
  /** What the take will be counted by, where a folder does. */
  readonly folder: string | undefined
}) {
  const { of } = props
  const [folder, setFolder] = useState<string>()
  const about = useAsk(['checkAids', 'stand', of], () => api.checkAids.stand.query(of))
  const remembered = useAsk(
    ['frameFolders', 'remembered', of.benchId],
    () => api.frameFolders.remembered.query({ benchId: of.benchId ?? 0 }),
    { when: of.benchId !== null },
  )
  const handed: AidProps = {
    of,
    folder,
    offered: props.folder || (remembered.data?.folder ?? ''),
    onFolder: setFolder,
  }
  return (
    <section className={css.page} aria-label={aidWords[props.aid].word}>
      <Asked of={about}>
        {(data) =>
          props.aid === 'centre' ? (
            <CentreAid {...handed} about={data} />
          ) : props.aid === 'white' ? (
            <WhiteAid {...handed} about={data} />
          ) : (
            <MatchAid {...handed} about={data} />
          )
        }
      </Asked>
      <Cautions aid={props.aid} />
    </section>
  )
}

/** Hands go to the product or to the lamps: what can hurt there, and what to read first. */
function Cautions({ aid }: { readonly aid: AidName }) {
  const about = aid === 'centre' ? ['load', 'lifting'] : ['lamps', 'cables', 'stands']
  const cautions = [...loadCautions, ...rigCautions].filter((one) => about.includes(one.about))
  return (
    <ul className={css.cautions} aria-label="Before hands go in">
      {aid === 'centre' ? null : (
        <li>Switch a lamp off and let it cool before it or what hangs on it is moved.</li>
      )}
      {cautions.map(({ about: name, sentence, pointer }) => (
        <li key={name}>
          {sentence} <span className={css.quiet}>{pointer}</span>
        </li>
      ))}
    </ul>
  )
}
