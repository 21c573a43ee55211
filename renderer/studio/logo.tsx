import { Button, ButtonRow } from '../parts/button.tsx'
import { FileDrop } from '../parts/fileDrop.tsx'
import { FieldGroup, FormRefusal } from '../parts/form.tsx'
import { useNotice } from '../parts/notice.tsx'
import { readBase64 } from '../parts/readBase64.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './logo.module.css'

/** The studio's logo as papers show it, on white; put on, changed or taken off. */
export function Logo() {
  const logo = useAsk(['studio', 'logo'], () => api.studio.logo.query()).data
  const say = useNotice()
  const put = useAct(
    async (file: File) => api.studio.setLogo.mutate({ name: file.name, base64: await readBase64(file) }),
    () => say('The logo stands on papers written from now on; those already sent stay as they were.'),
  )
  const remove = useAct(
    () => api.studio.removeLogo.mutate(),
    () => say('Papers written from now on have no logo; those already sent stay as they were.'),
  )
  const refusal = put.refusal ?? remove.refusal
  return (
    <FieldGroup legend="Logo on papers">
      {logo ? (
        <>
          <p className={css.paper}>
            <img
              className={css.logo}
              src={`/files/${logo.sha256}`}
              alt="The studio’s logo, as it is printed"
            />
          </p>
          <ButtonRow>
            <Button busy={remove.busy} onClick={() => remove.run()}>
              Take the logo off
            </Button>
          </ButtonRow>
        </>
      ) : null}
      <FileDrop
        label={logo ? 'Drop another logo here' : 'Drop the studio’s logo here'}
        hint="PNG, JPEG or WebP, up to 5 MB, on white; best 900 pixels wide. It is printed at most 60 mm wide and 20 mm high, and kept without what else is written in the file."
        accept="image/png,image/jpeg,image/webp"
        busy={put.busy}
        onFile={put.run}
      />
      {refusal ? <FormRefusal sentence={refusal.sentence} /> : null}
    </FieldGroup>
  )
}
