import type { Answers, Asks } from '../../main/api/types.ts'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { CheckField, SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { JobTable } from './jobTable.tsx'

type Order = NonNullable<NonNullable<Asks['jobs']['list']>['order']>

/** Every job there ever was, newest first. */
export function JobList() {
  const { today } = useStudio()
  const place = useTablePlace({ key: 'number', descending: true })
  const names = useAsk(['clients', 'names'], () => api.clients.names.query())
  const client = place.filter('client')
  const ask = {
    openOnly: place.filter('open') === 'yes',
    clientId: client === '' ? null : Number(client),
    order: place.sort.key as Order,
    descending: place.sort.descending,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk<Answers['jobs']['list']>(['jobs', 'list', ask], () => api.jobs.list.query(ask))
  return (
    <Page
      title="Jobs"
      acts={
        <ButtonRow>
          <ButtonLink to="/board">Board</ButtonLink>
          <ButtonLink to="/jobs/new" kind="main">
            New job
          </ButtonLink>
        </ButtonRow>
      }
    >
      <FieldLine>
        <SelectField
          label="Client"
          empty="Every client"
          value={client}
          options={(names.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(id) => place.setFilter('client', id)}
        />
        <CheckField
          label="Open jobs only"
          checked={ask.openOnly}
          onChange={(checked) => place.setFilter('open', checked ? 'yes' : '')}
        />
      </FieldLine>
      <JobTable
        caption="Jobs"
        answer={answer}
        place={place}
        today={today}
        empty={
          client !== '' || ask.openOnly ? (
            <Empty sentence="No job matches." act={<ButtonLink to="/jobs">Show every job</ButtonLink>} />
          ) : (
            <Empty
              sentence="There are no jobs yet. A job begins with an enquiry: who asks, and which products are to be spun."
              act={<ButtonLink to="/jobs/new">New job</ButtonLink>}
            />
          )
        }
      />
    </Page>
  )
}
