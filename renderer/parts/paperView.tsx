import type { Answers } from '../../main/api/types.ts'
import css from './paperView.module.css'

type ShownSheet = Answers['invoices']['asIssued']['sheet']
type Block = ShownSheet['blocks'][number]
type BlockOf<K extends Block['kind']> = Extract<Block, { kind: K }>

/** A paper on the screen: the same sheet that is printed, in the paper's language, as one long page. */
export function PaperView({ sheet, label }: { readonly sheet: ShownSheet; readonly label: string }) {
  const { sender } = sheet
  return (
    <article className={css.paper} aria-label={label} lang={sheet.language}>
      <header className={css.head}>
        <div>
          <p className={css.sender}>{sender.name}</p>
          <p className={css.small}>{sender.address.join(' · ')}</p>
        </div>
        {sheet.logoSha256 === null ? null : (
          <img className={css.logo} src={`/files/${sheet.logoSha256}`} alt={sender.name} />
        )}
      </header>
      <div className={css.parties}>
        <address className={css.recipient}>{sheet.recipient.join('\n')}</address>
        <Pairs rows={sheet.facts.map(([fact, value]) => ({ label: fact, value }))} />
      </div>
      <h3 className={css.title}>{sheet.title}</h3>
      {sheet.blocks.map((block, index) => (
        // Blocks of one sheet never move: a changed draft is another sheet.
        <OneBlock key={index} block={block} />
      ))}
      <footer className={css.foot}>{sender.foot.join(' · ')}</footer>
    </article>
  )
}

function OneBlock({ block }: { readonly block: Block }) {
  switch (block.kind) {
    case 'table':
      return <PaperTable table={block} />
    case 'totals':
      return <Totals totals={block} />
    case 'payment':
      return <Payment payment={block} />
    case 'glance':
      return <Pairs rows={block.figures} />
    case 'heading':
      return (
        <h4 className={css.heading}>
          {block.text} <span className={css.small}>{block.aside}</span>
        </h4>
      )
    case 'paragraph':
      return (
        <div>
          {block.heading === undefined ? null : <h4 className={css.heading}>{block.heading}</h4>}
          <p className={css.words}>{block.text}</p>
        </div>
      )
    case 'signature':
      return (
        <div>
          <h4 className={css.heading}>{block.heading}</h4>
          <p className={css.words}>{[block.text, ...block.boxes, ...block.lines].join('\n')}</p>
        </div>
      )
  }
}

function Pairs({ rows }: { readonly rows: readonly { readonly label: string; readonly value: string }[] }) {
  return (
    <dl className={css.pairs}>
      {rows.map(({ label, value }) => (
        <div key={label} className={css.pair}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  )
}

/** Columns share the width as they do on paper. */
function PaperTable({ table }: { readonly table: BlockOf<'table'> }) {
  const parts = table.columns.reduce((sum, { width }) => sum + width, 0)
  const classOf = (index: number) => (table.columns[index]?.align === 'right' ? css.right : undefined)
  return (
    <table className={css.table}>
      <thead>
        <tr>
          {table.columns.map(({ label, width }, index) => (
            <th
              key={label}
              scope="col"
              className={classOf(index)}
              style={{ width: `${(100 * width) / parts}%` }}
            >
              {label}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {table.rows.map((row, line) => (
          // Two lines of a paper may be word for word the same.
          <tr key={line}>
            {row.map((cell, index) => (
              <td key={table.columns[index]?.label} className={classOf(index)}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Totals({ totals }: { readonly totals: BlockOf<'totals'> }) {
  return (
    <dl className={css.totals}>
      {totals.rows.map(({ label, value, strong }) => (
        <div key={label} className={strong ? `${css.pair} ${css.strong}` : css.pair}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  )
}

function Payment({ payment }: { readonly payment: BlockOf<'payment'> }) {
  const { code } = payment
  return (
    <div className={css.payment}>
      {code === null ? null : <Code code={code} label={payment.codeText ?? ''} />}
      <div>
        <p>{payment.text}</p>
        <Pairs rows={payment.rows} />
        <p className={css.small}>{payment.codeText}</p>
      </div>
    </div>
  )
}

/** White round the code as on paper: readers need four modules of it (ISO/IEC 18004; from memory). */
const quietModules = 4

function Code({
  code: { size, dark },
  label,
}: {
  readonly code: NonNullable<BlockOf<'payment'>['code']>
  readonly label: string
}) {
  const side = size + 2 * quietModules
  return (
    <svg
      className={css.code}
      viewBox={`${-quietModules} ${-quietModules} ${side} ${side}`}
      shapeRendering="crispEdges"
      role="img"
      aria-label={label}
    >
      <rect x={-quietModules} y={-quietModules} width={side} height={side} className={css.light} />
      <path
        className={css.dark}
        d={dark.map(({ column, line, length }) => `M${column} ${line}h${length}v1h${-length}z`).join('')}
      />
    </svg>
  )
}
