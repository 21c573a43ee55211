/** Texts of lines that the program writes by itself, one record per language of the client. */
export interface BillWords {
  readonly deposit: (depositPpm: number, jobNumber: string) => string
}

export const billWords: Readonly<Record<'en' | 'de', BillWords>> = {
  en: {
    deposit: (ppm, job) => `Deposit of ${ppm / 10_000} % on job ${job}`,
  },
  de: {
    deposit: (ppm, job) => `Anzahlung von ${String(ppm / 10_000).replace('.', ',')} % auf Auftrag ${job}`,
  },
}
