import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { soonDays } from '../../main/trade/usageRights.ts'
import { CheckField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { daysUntil, dayText } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'

type Line = Answers['usageRights']['ending']['rights'][number]

/** Rights of use that end soon, over all clients, with whom to ask about another term. */
export function RightsEnding() {
  const { today } = useStudio()
  const place = useTablePlace({ key: 'toDay', descending: false })
  const which = place.filter('ended') === 'yes' ? 'ended' : 'soon'
  const ask = { which, page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage } } as const
  const answer = useAsk(['usageRights', 'ending', ask], () => api.usageRights.ending.query(ask))
  return (
    <Page
      title="Rights that end"
      lead={
        which === 'soon'
          ? `Rights of use that end within ${soonDays}\u00a0days. A right that goes on by another one is not listed.`
          : 'Rights of use that ended within the last year.'
      }
    >
      <div>
        <FieldLine>
          <CheckField
            label="Those that ended instead"
            checked={which === 'ended'}
            onChange={(on) => place.setFilter('ended', on ? 'yes' : '')}
          />
        </FieldLine>
        <Table
          caption="Rights of use that end"
          columns={columnsOf(today)}
          rows={answer.data?.rights}
          keyOf={({ id }) => id}
          total={answer.data?.total ?? 0}
          counted={['right', 'rights']}
          place={place}
          stale={answer.stale}
          empty={<Empty sentence={which === 'soon' ? 'None ends soon.' : 'None ended within a year.'} />}
        />
      </div>
    </Page>
  )
}

function columnsOf(today: string): readonly Column<Line>[] {
  return [
    { key: 'end', head: 'Ends', cell: ({ toDay }) => (toDay === null ? '' : endText(toDay, today)) },
    {
      key: 'client',
      head: 'Client',
      cell: ({ clientId, clientName }) => <Link to={`/clients/${clientId}`}>{clientName}</Link>,
    },
    {
      key: 'job',
      head: 'Job',
      cell: ({ jobId, jobNumber, jobTitle }) => (
        <Link to={`/jobs/${jobId}/quote`}>{`${jobNumber}, ${jobTitle}`}</Link>
      ),
    },
    { key: 'for', head: 'For', cell: ({ media, territory }) => `${media}, ${territory}` },
    {
      key: 'contact',
      head: 'Whom to ask',
      cell: ({ contactName, contactEmail, contactPhone }) =>
        [contactName, contactEmail, contactPhone].filter(Boolean).join(', '),
    },
  ]
}

function endText(toDay: string, today: string): string {
  const days = daysUntil(toDay, today)
  const said =
    days === 0 ? 'today' : days < 0 ? 'ended' : days === 1 ? 'in 1\u00a0day' : `in ${days}\u00a0days`
  return `${dayText(toDay, today)}, ${said}`
}
