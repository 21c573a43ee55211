import { useState } from 'react'
import { useNavigate, useParams, useSearchParams } from 'react-router'
import { finishes, type Plan, sweptWidthMm } from '../../main/trade/product.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { LengthField, MoneyField, NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine, Form } from '../parts/form.tsx'
import { withUnit } from '../parts/format.ts'
import { LeaveGuard, saved } from '../parts/leaveGuard.tsx'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Page } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { NewFamily } from './familyActs.tsx'
import { idIn } from './idIn.ts'
import { ProductPlan } from './productPlan.tsx'
import css from './products.module.css'
import { mmOf, newProductValue, type ProductValue, productValueOf, sentProduct } from './productValue.ts'

/** The form for a new product; the client is chosen first, or comes with the address. */
export function NewProduct() {
  const [params, setParams] = useSearchParams()
  const clientId = idIn(params.get('client'))
  const clients = useAsk(['clients', 'names'], () => api.clients.names.query())
  return (
    <ProductForm
      title="Add a product"
      start={newProductValue}
      clientId={clientId}
      client={
        <SelectField
          label="Client"
          name="clientId"
          value={clientId === null ? '' : String(clientId)}
          options={(clients.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(id) => setParams({ client: id }, { replace: true })}
        />
      }
      save={async (value) =>
        (await api.products.add.mutate({ clientId: clientId ?? 0, product: sentProduct(value) })).productId
      }
      act="Add the product"
      leave={clientId === null ? '/products' : `/products?client=${clientId}`}
    />
  )
}

/** The same form for a product that is kept already. */
export function ChangeProduct() {
  const productId = Number(useParams().productId)
  const answer = useAsk(['products', 'one', productId], () => api.products.one.query({ productId }))
  return (
    <Asked of={answer} isPage>
      {({ product, clientName }) => (
        <ProductForm
          key={productId}
          title={`Change ${product.code}`}
          start={productValueOf(product)}
          clientId={product.clientId}
          client={<p>{`A product of ${clientName}.`}</p>}
          save={async (value) => {
            await api.products.change.mutate({ productId, product: sentProduct(value) })
            return productId
          }}
          act="Save the product"
          leave={`/products/${productId}`}
        />
      )}
    </Asked>
  )
}

function ProductForm(props: {
  readonly title: string
  readonly start: ProductValue
  readonly clientId: number | null
  readonly client: React.ReactNode
  readonly save: (value: ProductValue) => Promise<number>
  readonly act: string
  readonly leave: string
}) {
  const { clientId } = props
  const navigate = useNavigate()
  const say = useNotice()
  const draft = useDraft(props.start)
  const { values, patch } = draft
  const save = useAct(
    () => props.save(values),
    (productId) => {
      say(`${values.code.trim()} is kept.`)
      void navigate(`/products/${productId}`, { state: saved })
    },
  )
  return (
    <Page title={props.title}>
      <LeaveGuard when={draft.touched} />
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        {props.client}
        {clientId === null ? (
          <p>Choose whose product it is first: its code and family are that client’s.</p>
        ) : (
          <>
            <Columns>
              <NameFields value={values} onChange={patch} clientId={clientId} />
              <SizeFields value={values} onChange={patch} />
            </Columns>
            <HandlingFields value={values} onChange={patch} clientId={clientId} />
            <ButtonRow>
              <Button type="submit" kind="main" busy={save.busy}>
                {props.act}
              </Button>
              <ButtonLink to={props.leave}>Leave it</ButtonLink>
            </ButtonRow>
          </>
        )}
      </Form>
    </Page>
  )
}

interface FieldsProps {
  readonly value: ProductValue
  readonly onChange: (some: Partial<ProductValue>) => void
}

function NameFields({ value, onChange, clientId }: FieldsProps & { readonly clientId: number }) {
  const families = useAsk(['families', 'names', clientId], () => api.families.names.query({ clientId }))
  const [isNaming, setNaming] = useState(false)
  return (
    <FieldGroup legend="What it is">
      <TextField
        label="Code"
        name="code"
        hint="The client’s own: it goes on the ticket and into file names."
        value={value.code}
        onChange={(code) => onChange({ code })}
      />
      <TextField label="Name" name="name" value={value.name} onChange={(name) => onChange({ name })} />
      <TextField
        label="Variant"
        name="variant"
        hint="Colour or size, where the client sells several."
        value={value.variant ?? ''}
        onChange={(variant) => onChange({ variant })}
      />
      <FieldLine>
        <SelectField
          label="Family"
          name="familyId"
          empty="None"
          value={value.familyId === null ? '' : String(value.familyId)}
          options={(families.data ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
          onChange={(id) => onChange({ familyId: id === '' ? null : Number(id) })}
        />
        <div className={css.beside}>
          <Button onClick={() => setNaming(true)}>New family</Button>
        </div>
      </FieldLine>
      <TextField
        label="Article number (GTIN)"
        name="gtin"
        value={value.gtin ?? ''}
        onChange={(gtin) => onChange({ gtin })}
      />
      {isNaming ? (
        <NewFamily
          clientId={clientId}
          onAdded={(familyId) => {
            setNaming(false)
            onChange({ familyId })
          }}
          onClose={() => setNaming(false)}
        />
      ) : null}
    </FieldGroup>
  )
}

const planWords: Record<Plan, string> = {
  box: 'A box: swept by its diagonal',
  round: 'Round: swept by its diameter',
  measured: 'Measured: I read the swept width',
}

function SizeFields({ value, onChange }: FieldsProps) {
  const size = {
    plan: value.plan,
    widthMm: mmOf(value.widthUm),
    depthMm: mmOf(value.depthUm),
    heightMm: mmOf(value.heightUm),
    sweptMm: mmOf(value.sweptUm),
  }
  const swept = sweptWidthMm(size)
  return (
    <FieldGroup legend="Size">
      <FieldLine>
        <LengthField
          kept="um"
          label="Width"
          name="widthMm"
          value={value.widthUm}
          onChange={(widthUm) => onChange({ widthUm })}
        />
        <LengthField
          kept="um"
          label="Depth"
          name="depthMm"
          value={value.depthUm}
          onChange={(depthUm) => onChange({ depthUm })}
        />
        <LengthField
          kept="um"
          label="Height"
          name="heightMm"
          value={value.heightUm}
          onChange={(heightUm) => onChange({ heightUm })}
        />
      </FieldLine>
      <SelectField
        label="Seen from above"
        name="plan"
        value={value.plan}
        options={(['box', 'round', 'measured'] as const).map((plan) => ({
          value: plan,
          label: planWords[plan],
        }))}
        onChange={(plan) => onChange({ plan })}
      />
      {value.plan === 'measured' ? (
        <LengthField
          kept="um"
          label="Swept width"
          name="sweptMm"
          hint="Twice the farthest point from the axis."
          value={value.sweptUm}
          onChange={(sweptUm) => onChange({ sweptUm })}
        />
      ) : (
        <p>{swept === null ? 'The swept width shows once width and depth are known.' : sweptText(swept)}</p>
      )}
      <ProductPlan size={size} />
    </FieldGroup>
  )
}

function sweptText(sweptMm: number): string {
  return `It sweeps ${withUnit(sweptMm, 'mm', 1)} as it turns.`
}

function HandlingFields({ value, onChange, clientId }: FieldsProps & { readonly clientId: number }) {
  const studio = useStudio()
  const client = useAsk(['clients', 'one', clientId], () => api.clients.one.query({ clientId }))
  return (
    <FieldGroup legend="Handling">
      <FieldLine>
        <NumberField
          label="Mass"
          name="massG"
          unit="g"
          value={value.massG}
          onChange={(massG) => onChange({ massG })}
        />
        <NumberField
          label="Stand or prop with it"
          name="standG"
          unit="g"
          hint="The platter carries it too."
          value={value.standG ?? null}
          onChange={(standG) => onChange({ standG })}
        />
        <SelectField
          label="Finish"
          name="finish"
          width="narrow"
          value={value.finish}
          options={finishes.map((finish) => ({ value: finish, label: finish }))}
          onChange={(finish) => onChange({ finish })}
        />
        <MoneyField
          label="Value of one"
          name="valueMinor"
          currency={client.data?.client.currency ?? studio.currency}
          hint="For custody and carriers."
          value={value.valueMinor}
          onChange={(valueMinor) => onChange({ valueMinor })}
        />
      </FieldLine>
      <TextField
        label="Start pose"
        name="startPose"
        hint="What faces the camera in the first frame; goes before the brief’s."
        value={value.startPose ?? ''}
        onChange={(startPose) => onChange({ startPose })}
      />
      <TextArea
        label="Note for whoever handles it"
        name="handlingNote"
        value={value.handlingNote ?? ''}
        onChange={(handlingNote) => onChange({ handlingNote })}
      />
    </FieldGroup>
  )
}
