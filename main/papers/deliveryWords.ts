/** The words of a delivery note in one language. */
export interface DeliveryWords {
  readonly title: string
  readonly day: string
  readonly job: string
  readonly orderNumber: string
  readonly way: string
  readonly spin: string
  readonly deliverable: string
  readonly pixels: string
  readonly files: string
  readonly size: string
  readonly allFiles: string
  readonly allSize: string
  readonly checkSums: string
  readonly checkNames: string
}

export const deliveryWords: Readonly<Record<'en' | 'de', DeliveryWords>> = {
  en: {
    title: 'Delivery note',
    day: 'Day',
    job: 'Job',
    orderNumber: 'Your order number',
    way: 'Sent by',
    spin: 'Spin',
    deliverable: 'Deliverable',
    pixels: 'Pixels',
    files: 'Files',
    size: 'Size',
    allFiles: 'Files in all',
    allSize: 'Size in all',
    checkSums:
      'The file list that comes with this note names every file with its size in bytes and its SHA-256. Please check that all of them have arrived.',
    checkNames:
      'The file list that comes with this note names every file. Please check that all of them have arrived.',
  },
  de: {
    title: 'Lieferschein',
    day: 'Datum',
    job: 'Auftrag',
    orderNumber: 'Ihre Bestellnummer',
    way: 'Versand',
    spin: 'Spin',
    deliverable: 'Lieferform',
    pixels: 'Pixel',
    files: 'Dateien',
    size: 'Größe',
    allFiles: 'Dateien gesamt',
    allSize: 'Größe gesamt',
    checkSums:
      'Die Dateiliste zu diesem Lieferschein nennt jede Datei mit ihrer Größe in Byte und ihrer SHA-256-Prüfsumme. Bitte prüfen Sie, ob alle angekommen sind.',
    checkNames:
      'Die Dateiliste zu diesem Lieferschein nennt jede Datei. Bitte prüfen Sie, ob alle angekommen sind.',
  },
}
