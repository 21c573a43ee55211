import { accountantCalls } from './accountant.ts'
import { accountCalls } from './accounts.ts'
import { answerCalls } from './answers.ts'
import { bankCalls } from './bank.ts'
import { benchCalls } from './benches.ts'
import { boardCalls } from './board.ts'
import { bookingCalls } from './bookings.ts'
import { briefCalls } from './briefs.ts'
import { calendarCalls } from './calendar.ts'
import { callCalls } from './calls.ts'
import { centreChoiceCalls } from './centreChoices.ts'
import { checkAidCalls } from './checkAids.ts'
import { clientPaperCalls } from './clientPapers.ts'
import { clientCalls } from './clients.ts'
import { deliveryCalls } from './deliveries.ts'
import { edgeBandCalls } from './edgeBands.ts'
import { equipmentCalls } from './equipment.ts'
import { extraCalls } from './extras.ts'
import { familyCalls } from './families.ts'
import { figureCalls } from './figures.ts'
import { frameFolderCalls } from './frameFolders.ts'
import { holidayCalls } from './holidays.ts'
import { invoiceCalls } from './invoices.ts'
import { jobCostCalls } from './jobCosts.ts'
import { jobCalls } from './jobs.ts'
import { router } from './kit.ts'
import { lastTimeCalls } from './lastTime.ts'
import { outageCalls } from './outages.ts'
import { paceCalls } from './pace.ts'
import { pickCalls } from './picks.ts'
import { plannerCalls } from './planner.ts'
import { planCalls } from './plans.ts'
import { platterCalls } from './platters.ts'
import { preparationCalls } from './preparation.ts'
import { priceCalls } from './prices.ts'
import { printCalls } from './prints.ts'
import { productImportCalls } from './productImport.ts'
import { productCalls } from './products.ts'
import { quotePlanCalls } from './quotePlans.ts'
import { quoteCalls } from './quotes.ts'
import { reminderCalls } from './reminders.ts'
import { rigEvidenceCalls } from './rigEvidence.ts'
import { rigPhotoCalls } from './rigPhotos.ts'
import { rigCalls } from './rigs.ts'
import { sampleCalls } from './samples.ts'
import { searchCalls } from './search.ts'
import { settingsCalls } from './settings.ts'
import { spinCalls } from './spins.ts'
import { startCalls } from './start.ts'
import { studioCalls } from './studio.ts'
import { takeCheckCalls } from './takeCheck.ts'
import { takeExportCalls } from './takeExport.ts'
import { takePictureCalls } from './takePictures.ts'
import { takeCalls } from './takes.ts'
import { takesFoundCalls } from './takesFound.ts'
import { taxRateCalls } from './taxRates.ts'
import { termCalls } from './terms.ts'
import { ticketCalls } from './tickets.ts'
import { usageRightCalls } from './usageRights.ts'

/** The contract: one line per subject. */
export const appRouter = router({
  start: startCalls,
  studio: studioCalls,
  board: boardCalls,
  search: searchCalls,
  clientPapers: clientPaperCalls,
  clients: clientCalls,
  jobs: jobCalls,
  spins: spinCalls,
  samples: sampleCalls,
  invoices: invoiceCalls,
  usageRights: usageRightCalls,
  accounts: accountCalls,
  accountant: accountantCalls,
  bank: bankCalls,
  reminders: reminderCalls,
  extras: extraCalls,
  terms: termCalls,
  jobCosts: jobCostCalls,
  briefs: briefCalls,
  products: productCalls,
  productImport: productImportCalls,
  families: familyCalls,
  platters: platterCalls,
  rigPhotos: rigPhotoCalls,
  rigs: rigCalls,
  rigEvidence: rigEvidenceCalls,
  lastTime: lastTimeCalls,
  settings: settingsCalls,
  equipment: equipmentCalls,
  outages: outageCalls,
  benches: benchCalls,
  bookings: bookingCalls,
  calendar: calendarCalls,
  holidays: holidayCalls,
  takes: takeCalls,
  takeCheck: takeCheckCalls,
  edgeBands: edgeBandCalls,
  centreChoices: centreChoiceCalls,
  takeExport: takeExportCalls,
  takePictures: takePictureCalls,
  takesFound: takesFoundCalls,
  frameFolders: frameFolderCalls,
  checkAids: checkAidCalls,
  preparation: preparationCalls,
  picks: pickCalls,
  plans: planCalls,
  answers: answerCalls,
  deliveries: deliveryCalls,
  pace: paceCalls,
  figures: figureCalls,
  prices: priceCalls,
  taxRates: taxRateCalls,
  quotes: quoteCalls,
  quotePlans: quotePlanCalls,
  calls: callCalls,
  planner: plannerCalls,
  prints: printCalls,
  tickets: ticketCalls,
})
