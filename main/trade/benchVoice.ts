/** How many of the marks the screen speaks; warnings are spoken with each of them. */
export const spokenChoices = ['off', 'every tenth', 'every mark'] as const
export type SpokenChoice = (typeof spokenChoices)[number]

/** What may be said at the bench, in one language. */
export interface Phrases {
  readonly mark: (mark: string) => string
  readonly frame: (frame: string, mark: string) => string
  readonly seam: (overlap: string) => string
  readonly seamAlone: string
  readonly done: string
  readonly refused: string
  readonly cut: string
  readonly back: string
  readonly paused: string
  readonly beatStopped: string
  readonly move: string
  readonly wait: string
  readonly shoot: string
  readonly row: (row: string, rows: string) => string
  readonly height: (mm: string) => string
  /** Where the camera looks. */
  readonly down: (deg: string) => string
  readonly up: (deg: string) => string
  readonly level: string
}

const english: Phrases = {
  mark: (mark) => mark,
  frame: (frame, mark) => `${frame}. Turn to ${mark}.`,
  seam: (overlap) => `The turn is closed. ${overlap} more.`,
  seamAlone: 'The turn is closed.',
  done: 'All frames are shot.',
  refused: 'Not kept. Look at the screen.',
  cut: 'The studio does not answer. Look at the screen.',
  back: 'The studio answers again.',
  paused: 'Paused.',
  beatStopped: 'The beat has stopped. Look at the screen.',
  move: 'move',
  wait: 'wait',
  shoot: 'shoot',
  row: (row, rows) => `Row ${row} of ${rows}.`,
  height: (mm) => `Camera height ${mm} millimetres.`,
  down: (deg) => `${deg} degrees down.`,
  up: (deg) => `${deg} degrees up.`,
  level: 'Level.',
}

/** The words by language (ISO 639-1); a studio in another language hears English. */
const phrasesByLanguage: Readonly<Record<string, Phrases>> = {
  en: english,
  de: {
    mark: (mark) => mark,
    frame: (frame, mark) => `${frame}. Weiter auf ${mark}.`,
    seam: (overlap) => `Die Drehung ist geschlossen. Noch ${overlap}.`,
    seamAlone: 'Die Drehung ist geschlossen.',
    done: 'Alle Bilder sind aufgenommen.',
    refused: 'Nicht gespeichert. Bitte auf den Bildschirm sehen.',
    cut: 'Das Studio antwortet nicht. Bitte auf den Bildschirm sehen.',
    back: 'Das Studio antwortet wieder.',
    paused: 'Pause.',
    beatStopped: 'Der Takt steht. Bitte auf den Bildschirm sehen.',
    move: 'drehen',
    wait: 'warten',
    shoot: 'auslösen',
    row: (row, rows) => `Reihe ${row} von ${rows}.`,
    height: (mm) => `Kamerahöhe ${mm} Millimeter.`,
    down: (deg) => `${deg} Grad nach unten.`,
    up: (deg) => `${deg} Grad nach oben.`,
    level: 'Waagerecht.',
  },
  fr: {
    mark: (mark) => mark,
    frame: (frame, mark) => `${frame}. Tourner à ${mark}.`,
    seam: (overlap) => `Le tour est fermé. Encore ${overlap}.`,
    seamAlone: 'Le tour est fermé.',
    done: 'Toutes les images sont prises.',
    refused: 'Non enregistré. Regardez l’écran.',
    cut: 'Le studio ne répond pas. Regardez l’écran.',
    back: 'Le studio répond de nouveau.',
    paused: 'Pause.',
    beatStopped: 'La cadence s’est arrêtée. Regardez l’écran.',
    move: 'tourner',
    wait: 'attendre',
    shoot: 'déclencher',
    row: (row, rows) => `Rangée ${row} sur ${rows}.`,
    height: (mm) => `Hauteur de l’appareil ${mm} millimètres.`,
    down: (deg) => `${deg} degrés vers le bas.`,
    up: (deg) => `${deg} degrés vers le haut.`,
    level: 'À l’horizontale.',
  },
  es: {
    mark: (mark) => mark,
    frame: (frame, mark) => `${frame}. Girar a ${mark}.`,
    seam: (overlap) => `La vuelta está cerrada. Quedan ${overlap}.`,
    seamAlone: 'La vuelta está cerrada.',
    done: 'Todas las fotos están hechas.',
    refused: 'No guardado. Mire la pantalla.',
    cut: 'El estudio no responde. Mire la pantalla.',
    back: 'El estudio responde de nuevo.',
    paused: 'Pausa.',
    beatStopped: 'El ritmo se ha parado. Mire la pantalla.',
    move: 'girar',
    wait: 'esperar',
    shoot: 'disparar',
    row: (row, rows) => `Fila ${row} de ${rows}.`,
    height: (mm) => `Altura de la cámara ${mm} milímetros.`,
    down: (deg) => `${deg} grados hacia abajo.`,
    up: (deg) => `${deg} grados hacia arriba.`,
    level: 'Horizontal.',
  },
  it: {
    mark: (mark) => mark,
    frame: (frame, mark) => `${frame}. Girare a ${mark}.`,
    seam: (overlap) => `Il giro è chiuso. Ancora ${overlap}.`,
    seamAlone: 'Il giro è chiuso.',
    done: 'Tutti gli scatti sono fatti.',
    refused: 'Non salvato. Guardare lo schermo.',
    cut: 'Lo studio non risponde. Guardare lo schermo.',
    back: 'Lo studio risponde di nuovo.',
    paused: 'Pausa.',
    beatStopped: 'Il ritmo si è fermato. Guardare lo schermo.',
    move: 'girare',
    wait: 'attendere',
    shoot: 'scattare',
    row: (row, rows) => `Fila ${row} di ${rows}.`,
    height: (mm) => `Altezza della fotocamera ${mm} millimetri.`,
    down: (deg) => `${deg} gradi verso il basso.`,
    up: (deg) => `${deg} gradi verso l’alto.`,
    level: 'In orizzontale.',
  },
  nl: {
    mark: (mark) => mark,
    frame: (frame, mark) => `${frame}. Draai naar ${mark}.`,
    seam: (overlap) => `De draai is rond. Nog ${overlap}.`,
    seamAlone: 'De draai is rond.',
    done: 'Alle beelden zijn gemaakt.',
    refused: 'Niet bewaard. Kijk op het scherm.',
    cut: 'De studio antwoordt niet. Kijk op het scherm.',
    back: 'De studio antwoordt weer.',
    paused: 'Pauze.',
    beatStopped: 'De maat staat stil. Kijk op het scherm.',
    move: 'draaien',
    wait: 'wachten',
    shoot: 'afdrukken',
    row: (row, rows) => `Rij ${row} van ${rows}.`,
    height: (mm) => `Camerahoogte ${mm} millimeter.`,
    down: (deg) => `${deg} graden omlaag.`,
    up: (deg) => `${deg} graden omhoog.`,
    level: 'Waterpas.',
  },
}

/** The languages the bench speaks, as ISO 639-1 codes. */
export const spokenLanguages: readonly string[] = Object.keys(phrasesByLanguage)

/** The language to speak for a studio's locale (BCP 47), and its words: `de-AT` speaks German; unknown ones English. */
export function voiceFor(locale: string): { readonly language: string; readonly phrases: Phrases } {
  const language = (locale.split('-')[0] ?? '').toLowerCase()
  const phrases = phrasesByLanguage[language]
  return phrases ? { language, phrases } : { language: 'en', phrases: english }
}

/** A figure for a voice: no grouping, which some voices read as two numbers; the language's own decimal sign. */
export function spokenFigure(value: number, locale: string): string {
  return new Intl.NumberFormat(locale, { useGrouping: false, maximumFractionDigits: 4 }).format(value)
}

/** What stands at the bench once a frame was kept. Marks count from 0. */
export interface KeptFrame {
  readonly nextMark: number
  readonly nextMarkMm: number
  readonly framesPerTurn: number
  readonly toShoot: number
  readonly isDone: boolean
}

/**
 * What the screen says after a frame: seam and end with every choice but `off`, tenths with the count, every mark
 * where that is chosen. Undefined where it keeps silent.
 */
export function saidOfFrame(choice: SpokenChoice, locale: string, kept: KeptFrame): string | undefined {
  if (choice === 'off') return undefined
  const { language, phrases } = voiceFor(locale)
  const figure = (value: number) => spokenFigure(value, language)
  if (kept.isDone) return phrases.done
  if (kept.nextMark === kept.framesPerTurn) {
    const overlap = kept.toShoot - kept.framesPerTurn
    return overlap > 0 ? phrases.seam(figure(overlap)) : phrases.seamAlone
  }
  const mark = figure(kept.nextMarkMm)
  if (kept.nextMark > 0 && kept.nextMark % 10 === 0) return phrases.frame(figure(kept.nextMark), mark)
  return choice === 'every mark' ? phrases.mark(mark) : undefined
}

/** The row and where its camera stands, as it is said before its first frame. */
export function saidOfRow(
  locale: string,
  row: {
    readonly row: number
    readonly rows: number
    readonly heightMm: number | null
    readonly tiltDeg: number
  },
): string {
  const { language, phrases } = voiceFor(locale)
  const figure = (value: number) => spokenFigure(value, language)
  return [
    phrases.row(figure(row.row), figure(row.rows)),
    row.heightMm === null ? '' : phrases.height(figure(row.heightMm)),
    row.tiltDeg === 0
      ? phrases.level
      : phrases[row.tiltDeg > 0 ? 'down' : 'up'](figure(Math.abs(row.tiltDeg))),
  ]
    .filter(Boolean)
    .join(' ')
}

/**
 * The voice to speak with: one of the language, the locale's own region first, those on this device before those
 * that need a network. Undefined where the device has none.
 */
export function voiceAmong<V extends { readonly lang: string; readonly localService: boolean }>(
  voices: readonly V[],
  locale: string,
): V | undefined {
  const { language } = voiceFor(locale)
  const tag = (voice: V) => voice.lang.replace('_', '-').toLowerCase()
  const rank = (voice: V) => (tag(voice) === locale.toLowerCase() ? 0 : 2) + (voice.localService ? 0 : 1)
  return voices
    .filter((voice) => tag(voice).split('-')[0] === language)
    .toSorted((a, b) => rank(a) - rank(b))[0]
}
