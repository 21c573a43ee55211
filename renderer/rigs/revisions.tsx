import { Button, ButtonLink } from '../parts/button.tsx'
import { instantText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { useStudio } from '../shell/studio.ts'
import { Comparison } from './comparison.tsx'
import type { Revision } from './rigValue.ts'

/** The revisions of a rig with why each was made, and what the shown one changed. */
export function Revisions(props: {
  readonly name: string
  readonly revisions: readonly Revision[]
  readonly shown: Revision
  readonly show: (revision: number) => void
}) {
  const { name, revisions, shown } = props
  const { timeZone } = useStudio()
  const before = revisions.find(({ revision }) => revision === shown.revision - 1)
  const compared = (revision: Revision) => ({
    id: revision.id,
    name: `${name}, revision ${revision.revision}`,
  })
  return (
    <Part
      title="Revisions"
      acts={
        <ButtonLink to={`/rigs/compare?${before ? `before=${before.id}&` : ''}after=${shown.id}`}>
          Compare with another
        </ButtonLink>
      }
    >
      <Table
        caption="Revisions of this rig"
        rows={revisions}
        keyOf={(revision) => revision.id}
        columns={[
          {
            key: 'revision',
            head: 'Revision',
            tight: true,
            cell: (revision) => (
              <Button
                kind="quiet"
                aria-pressed={revision.id === shown.id}
                onClick={() => props.show(revision.revision)}
              >
                {revision.id === shown.id ? `${revision.revision}, shown` : `Show ${revision.revision}`}
              </Button>
            ),
          },
          { key: 'why', head: 'Why', cell: (revision) => revision.why },
          { key: 'person', head: 'Written by', cell: (revision) => revision.person },
          {
            key: 'at',
            head: 'When',
            tight: true,
            cell: (revision) => instantText(revision.createdAt, timeZone),
          },
        ]}
        empty={null}
      />
      {before ? <Comparison before={compared(before)} after={compared(shown)} only /> : null}
    </Part>
  )
}
