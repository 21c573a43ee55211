import { useLocation } from 'react-router'
import { ButtonLink } from '../parts/button.tsx'
import { Empty, Page } from '../parts/page.tsx'

/** For an address that leads nowhere. */
export function NoSuchPage() {
  const { pathname } = useLocation()
  return (
    <Page title="No such page">
      <Empty
        sentence={
          <>
            There is no page at <code>{pathname}</code>. It may have been typed wrongly, or what it showed is
            gone.
          </>
        }
        act={<ButtonLink to="/board">Go to the board</ButtonLink>}
      />
    </Page>
  )
}
