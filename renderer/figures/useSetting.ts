import type { Asks } from '../../main/api/types.ts'
import { useNotice } from '../parts/notice.tsx'
import { type Act, api, useAct } from '../shell/api.ts'

type Figures = Asks['pace']['change']

/** Puts learned figures in the place of the studio's settings; the others stay as they are. */
export function useAsSetting(): Act<Partial<Figures>> {
  const say = useNotice()
  return useAct(
    async (learned: Partial<Figures>) => {
      const { figures } = await api.pace.figures.query()
      await api.pace.change.mutate({ ...figures, ...learned })
    },
    () => say('Taken over as the studio’s setting. It stands under Studio, Times.'),
  )
}
