import { useState } from 'react'
import { useNavigate, useSearchParams } from 'react-router'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { countText, numberText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Page, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { decodeList } from './decodeList.ts'
import { idIn } from './idIn.ts'
import { ImportColumns } from './importColumns.tsx'
import { ImportPreview } from './importPreview.tsx'
import type { ReadAs, ReadList } from './importValue.ts'
import css from './products.module.css'

/** A file that has been picked, and how it is read. */
interface Picked {
  readonly fileName: string
  readonly text: string
  /** Counts the files picked, so that an answer is never taken for that of another file. */
  readonly count: number
  readonly list: ReadList
  readonly readAs: ReadAs
}

/** Takes in a client's product list: whose it is, the file, its columns, a preview, and only then the rows. */
export function ImportPage() {
  const [params, setParams] = useSearchParams()
  const clientId = idIn(params.get('client'))
  const clients = useAsk(['clients', 'names'], () => api.clients.names.query())
  const [picked, setPicked] = useState<Picked>()
  const read = useRead(setPicked)
  const name = clients.data?.find(({ id }) => id === clientId)?.name
  return (
    <Page
      title="Take in a product list"
      lead="A CSV file from the client’s spreadsheet. Nothing is written before you have seen what it would do."
    >
      <SelectField
        label="Whose products they are"
        value={clientId === null ? '' : String(clientId)}
        options={(clients.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
        onChange={(id) => setParams({ client: id }, { replace: true })}
      />
      <div className={css.file}>
        <FileDrop
          label={
            picked
              ? `${picked.fileName}, ${countText(picked.list.rows, 'row')}`
              : 'Drop the product list here'
          }
          act={picked ? 'Pick another file' : 'Pick a file'}
          hint="The first line names the columns. Commas, semicolons or tabs; UTF-8 or Windows letters."
          accept=".csv,.txt,.tsv,text/csv,text/plain"
          busy={read.busy}
          onFile={read.run}
        />
        {read.refusal ? <FormRefusal sentence={read.refusal.sentence} /> : null}
      </div>
      {picked ? (
        <>
          <Part title="What the columns are">
            <ImportColumns
              key={picked.count}
              list={picked.list}
              readAs={picked.readAs}
              onChange={(readAs) => setPicked({ ...picked, readAs })}
            />
          </Part>
          {clientId === null ? (
            <p>Choose whose products they are, to see what the list would do.</p>
          ) : (
            <Looking
              key={`${picked.count} ${clientId}`}
              picked={picked}
              clientId={clientId}
              clientName={name ?? ''}
            />
          )}
        </>
      ) : null}
    </Page>
  )
}

let filesPicked = 0

function useRead(onRead: (picked: Picked) => void) {
  return useAct(async (file: File) => {
    const text = decodeList(new Uint8Array(await file.arrayBuffer()))
    const list = await api.productImport.read.query({ text })
    filesPicked += 1
    onRead({
      fileName: file.name,
      text,
      count: filesPicked,
      list,
      readAs: { columns: list.columns, sizeUnit: 'mm', massUnit: 'g', decimalMark: list.decimalMark },
    })
  })
}

/** What the list would do to this client's products, and the button that does it. */
function Looking(props: { readonly picked: Picked; readonly clientId: number; readonly clientName: string }) {
  const { picked, clientId } = props
  const { text, readAs, fileName } = picked
  const navigate = useNavigate()
  const say = useNotice()
  const preview = useAsk(['productImport', 'preview', picked.count, clientId, readAs], () =>
    api.productImport.preview.query({ clientId, text, ...readAs }),
  )
  const take = useAct(
    () => api.productImport.take.mutate({ clientId, text, fileName, ...readAs }),
    ({ added, updated }) => {
      say(`${numberText(added)} added, ${numberText(updated)} changed for ${props.clientName}.`)
      void navigate(`/products?client=${clientId}&sort=-newest`)
    },
  )
  if (preview.refusal) return <FormRefusal sentence={preview.refusal.sentence} />
  if (!preview.data) return <p aria-busy="true">Reading the list</p>
  const { added, updated } = preview.data
  const good = added + updated
  return (
    <Form refusal={take.refusal} onSubmit={() => take.run()} label="Take the good rows">
      <ImportPreview preview={preview.data} clientName={props.clientName} />
      <ButtonRow>
        <Button type="submit" kind="main" disabled={good === 0 || preview.stale} busy={take.busy}>
          {good === 0 ? 'Nothing to take' : `Take ${numberText(good)} good ${good === 1 ? 'row' : 'rows'}`}
        </Button>
      </ButtonRow>
    </Form>
  )
}
