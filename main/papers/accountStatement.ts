import { findClient } from '../../db/clients.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { sellerOf } from '../../db/parties.ts'
import { theStudio } from '../../db/studio.ts'
import type { StatementOfAccount } from '../trade/accountStatement.ts'
import { ages } from '../trade/ageing.ts'
import { clientFigures, type PaperFigures } from '../trade/paperFigures.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import type { StatementTexts } from '../trade/texts/shape.ts'
import { addressLines, senderOf } from './parties.ts'
import type { Block, Sheet } from './sheet.ts'

/**
 * What stands on a statement of account: the opening balance, every document and payment of the period with the balance
 * after it, the closing balance, and what is open on the day it is drawn up by its age.
 */
export function statementSheet(db: Db, statement: StatementOfAccount): Sheet {
  const studio = theStudio(db)
  const client = findClient(db, statement.clientId as Id<'client'>)
  if (!client) throw new Error(`There is no client ${statement.clientId}.`)
  const words = paperTexts[client.language].statement
  const figures = clientFigures(client)
  const { day, locale } = figures
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt: `${statement.drawnUpDay}T00:00:00.000Z`,
    title: words.title,
    sender: senderOf(sellerOf(studio), locale, client.language),
    recipient: [client.name, ...addressLines(client, studio.country, locale)],
    facts: [
      [words.period, figures.days(statement.fromDay, statement.toDay)],
      [words.drawnUp, day(statement.drawnUpDay)],
      [words.currency, statement.currency],
    ],
    blocks: [
      ...movements(statement, words, figures),
      ...standing(statement, words, figures),
      { kind: 'paragraph', text: words.check },
    ],
  }
}

function movements(
  { currency, ...statement }: StatementOfAccount,
  words: StatementTexts,
  figures: PaperFigures,
): readonly Block[] {
  const money = (minor: number) => figures.money(minor, currency)
  const widths = [19, 34, 19, 17, 17]
  return [
    {
      kind: 'table',
      columns: words.columns.map((label, index) => ({
        label,
        width: widths[index] ?? 10,
        align: index < 3 ? 'left' : 'right',
      })),
      rows: [
        [figures.day(statement.fromDay), words.opening, '', '', money(statement.openingMinor)],
        ...statement.lines.map((line) => [
          figures.day(line.day),
          [words.kinds[line.kind], line.text].filter(Boolean).join(' '),
          line.dueDay === null ? '' : figures.day(line.dueDay),
          money(line.amountMinor),
          money(line.balanceMinor),
        ]),
      ],
    },
    {
      kind: 'totals',
      rows: [{ label: words.closing, value: money(statement.closingMinor), strong: true }],
    },
  ]
}

function standing(
  { currency, ageing, creditMinor, drawnUpDay }: StatementOfAccount,
  words: StatementTexts,
  figures: PaperFigures,
): readonly Block[] {
  const money = (minor: number) => figures.money(minor, currency)
  return [
    { kind: 'heading', text: words.open(figures.day(drawnUpDay)), keepWith: 50 },
    {
      kind: 'table',
      columns: ages.map((age) => ({ label: words.ages[age], width: 1, align: 'right' })),
      rows: [ages.map((age) => money(ageing[age]))],
    },
    ...(creditMinor === 0
      ? []
      : [{ kind: 'totals' as const, rows: [{ label: words.credit, value: money(creditMinor) }] }]),
  ]
}
