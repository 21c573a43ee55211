import { useState } from 'react'
import type { FrameFigures, TakeReport } from '../../main/trade/check/report.ts'
import words from '../look/words.module.css'
import { numberText } from '../parts/format.ts'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage } from '../parts/tablePlace.ts'

/** The figures that the strip draws, frame by frame; brightness as a share of white. */
export function FiguresTable({ report }: { readonly report: TakeReport }) {
  const [page, setPage] = useState(1)
  const from = (page - 1) * rowsPerPage
  return (
    <Table
      caption="Figures of each frame"
      columns={columnsOf(report)}
      rows={report.frames.slice(from, from + rowsPerPage)}
      keyOf={({ frame }) => frame}
      total={report.frames.length}
      counted={['frame', 'frames']}
      place={{
        page,
        sort: { key: 'frame', descending: false },
        toPage: setPage,
        toSort: () => {},
        filter: () => '',
        setFilter: () => {},
      }}
      empty={<p>No frame is read yet.</p>}
    />
  )
}

function columnsOf(report: TakeReport): readonly Column<FrameFigures>[] {
  return [
    { key: 'frame', head: 'Frame', figure: true, cell: ({ frame }) => numberText(frame) },
    { key: 'file', head: 'File', cell: ({ file }) => <span className={words.mono}>{file}</span> },
    { key: 'frameY', head: 'Whole, %', figure: true, cell: ({ frameY }) => shareText(frameY) },
    { key: 'backdropY', head: 'Backdrop, %', figure: true, cell: ({ backdropY }) => shareText(backdropY) },
    { key: 'platterY', head: 'Platter, %', figure: true, cell: ({ platterY }) => shareText(platterY) },
    { key: 'productY', head: 'Product, %', figure: true, cell: ({ productY }) => shareText(productY) },
    { key: 'light', head: 'Light, EV', figure: true, cell: ({ luminanceEv }) => evText(luminanceEv) },
    { key: 'change', head: 'Change, EV', figure: true, cell: ({ changeEv }) => evText(changeEv) },
    {
      key: 'step',
      head: 'Difference, steps',
      figure: true,
      cell: ({ stepRatio }) => (stepRatio === null ? '' : stepRatio.toFixed(2)),
    },
    {
      key: 'match',
      head: 'Match',
      figure: true,
      cell: ({ match }) => (match === null ? '' : match.toFixed(2)),
    },
    {
      key: 'found',
      head: 'Found',
      cell: ({ frame, problem }) =>
        [
          problem,
          ...report.findings.filter(({ frames }) => frames.includes(frame)).map(({ sentence }) => sentence),
        ]
          .filter(Boolean)
          .join(' '),
    },
  ]
}

/** Mean linear luminance as a percentage of white; as many decimals in every row, so that the points stand in line. */
function shareText(y: number | null): string {
  return y === null ? '' : (100 * y).toFixed(1)
}

/** As many decimals in every row; what rounds to nothing has no sign. */
function evText(ev: number | null): string {
  if (ev === null) return ''
  return `${ev < -0.005 ? '−' : ''}${Math.abs(ev).toFixed(2)}`
}
