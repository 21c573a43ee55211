import { freshKey } from '../briefs/briefValue.ts'
import { Button } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import type { ContactValue } from './clientValue.ts'
import css from './contactsFields.module.css'

/** The people at a client, one line each; one of them is the first to ask. */
export function ContactsFields(props: {
  readonly contacts: readonly ContactValue[]
  readonly onChange: (contacts: readonly ContactValue[]) => void
}) {
  const { contacts, onChange } = props
  const patch = (at: number, some: Partial<ContactValue>) =>
    onChange(contacts.map((contact, index) => (index === at ? { ...contact, ...some } : contact)))
  return (
    <>
      <ul className={css.people}>
        {contacts.map((contact, index) => (
          <li key={contact.key} className={css.person} aria-label={contact.name || `Person ${index + 1}`}>
            <TextField
              label="Name"
              name={`contacts.${index}.name`}
              value={contact.name}
              onChange={(name) => patch(index, { name })}
            />
            <TextField
              label="What they do there"
              name={`contacts.${index}.role`}
              value={contact.role ?? ''}
              onChange={(role) => patch(index, { role })}
            />
            <TextField
              label="E-mail"
              name={`contacts.${index}.email`}
              type="email"
              value={contact.email ?? ''}
              onChange={(email) => patch(index, { email })}
            />
            <TextField
              label="Telephone"
              name={`contacts.${index}.phone`}
              type="tel"
              value={contact.phone ?? ''}
              onChange={(phone) => patch(index, { phone })}
            />
            <span className={css.acts}>
              <label>
                <input
                  type="radio"
                  name="first-to-ask"
                  checked={contact.isMain}
                  onChange={() => onChange(contacts.map((one, at) => ({ ...one, isMain: at === index })))}
                />{' '}
                First to ask
              </label>
              <Button
                kind="quiet"
                aria-label={`Take away ${contact.name || `person ${index + 1}`}`}
                onClick={() => onChange(contacts.toSpliced(index, 1))}
              >
                Take away
              </Button>
            </span>
          </li>
        ))}
      </ul>
      <div>
        <Button onClick={() => onChange([...contacts, newContact(contacts.length === 0)])}>
          Add a person
        </Button>
      </div>
    </>
  )
}

function newContact(isMain: boolean): ContactValue {
  return { name: '', role: '', email: '', phone: '', isMain, key: freshKey() }
}
