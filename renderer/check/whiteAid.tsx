import { api, useAsk } from '../shell/api.ts'
import type { AidProps, AidStand } from './aidPage.tsx'
import css from './aids.module.css'
import { NewestFrame } from './newestFrame.tsx'
import { useNewestFrame, WatchedFolder } from './watchedFolder.tsx'

const answerWords = {
  'by exposure': 'White by exposure',
  'flag the light': 'Flag the light',
  'cut-out': 'Cut-out',
  'cannot tell': 'It cannot be told',
} as const

/** One test frame tells whether the backdrop can be lifted to white by exposure before the product burns out. */
export function WhiteAid({ folder, offered, onFolder, about }: AidProps & { readonly about: AidStand }) {
  const newest = useNewestFrame(folder)
  const { key = null, stamp } = newest.data?.newest ?? {}
  const asked = { folder: folder ?? '', key, whiteCode: about.whiteCode }
  const white = useAsk(['checkAids', 'white', asked, stamp], () => api.checkAids.white.query(asked), {
    when: folder !== undefined && newest.data !== undefined,
  })
  return (
    <div className={css.two}>
      <div className={css.frame}>
        {white.data?.pictureUrl ? (
          <img src={white.data.pictureUrl} alt={`The newest frame, ${white.data.file}`} />
        ) : (
          <p className={css.noFrame}>No frame is looked at yet</p>
        )}
      </div>
      <div className={css.side}>
        <WatchedFolder folder={folder} offered={offered} onChange={onFolder} />
        {folder === undefined ? null : (
          <NewestFrame
            answer={white}
            waiting="Shoot one frame with the product on the platter and the lights as they will be."
          >
            {({ white: told }) =>
              told === null ? null : (
                <div role="status">
                  <p className={css.verdict}>{answerWords[told.answer ?? 'cannot tell']}</p>
                  {told.sentences.map((sentence) => (
                    <p key={sentence}>{sentence}</p>
                  ))}
                </div>
              )
            }
          </NewestFrame>
        )}
      </div>
    </div>
  )
}
