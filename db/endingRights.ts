import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'
import { rightColumns, toRight, type UsageRight } from './usageRights.ts'

/** A right that is about to end or has ended, with whom to ask about another term. */
export interface EndingRight extends UsageRight {
  readonly jobNumber: string
  readonly jobTitle: string
  readonly clientId: Id<'client'>
  readonly clientName: string
  readonly contactName: string | null
  readonly contactEmail: string | null
  readonly contactPhone: string | null
}

// A right that goes on by another, for the same media and territory on the same job, has not ended for the client.
const ending = `FROM usage_right r JOIN job ON job.id = r.job_id JOIN client ON client.id = job.client_id
  LEFT JOIN contact ON contact.id = ifnull(job.contact_id,
    (SELECT c.id FROM contact c WHERE c.client_id = client.id ORDER BY c.is_main DESC, c.id LIMIT 1))
  WHERE r.to_day BETWEEN ? AND ? AND r.agreed_at IS NOT NULL AND r.withdrawn_at IS NULL
    AND NOT EXISTS (SELECT 1 FROM usage_right n WHERE n.job_id = r.job_id AND n.media = r.media
      AND n.territory = r.territory AND n.agreed_at IS NOT NULL AND n.withdrawn_at IS NULL
      AND (n.to_day IS NULL OR n.to_day > r.to_day))`

/** Agreed rights whose last day lies between two days, both ends included, the one that ends first at the top. */
export function rightsEnding(
  db: Db,
  fromDay: string,
  toDay: string,
  page: { readonly offset: number; readonly limit: number },
): { readonly total: number; readonly rights: readonly EndingRight[] } {
  const count = prepared<[string, string], { total: number }>(db, `SELECT count(*) AS total ${ending}`)
  const rows = prepared<
    [string, string, number, number],
    Omit<EndingRight, 'passesOnPayment'> & { readonly passesOnPayment: 0 | 1 }
  >(
    db,
    `SELECT ${rightColumns}, job.number AS jobNumber, job.title AS jobTitle, client.id AS clientId, client.name AS clientName,
       contact.name AS contactName, contact.email AS contactEmail, contact.phone AS contactPhone
     ${ending} ORDER BY r.to_day, r.id LIMIT ? OFFSET ?`,
  )
  return {
    total: count.get(fromDay, toDay)?.total ?? 0,
    rights: rows.all(fromDay, toDay, page.limit, page.offset).map(toRight),
  }
}
