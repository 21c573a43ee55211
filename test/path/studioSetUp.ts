import type { Page } from 'playwright-core'
import { dialog, fillIn, follow, goTo, hear, press, see } from './person.ts'

/** First start: a studio of one's own. */
export async function makeStudio(page: Page): Promise<void> {
  const own = page.getByRole('region', { name: 'New studio' })
  await fillIn(own, {
    'Name of the studio': 'Millpond Spins',
    'Your name': 'Ines Falkner',
    Country: 'Germany',
    'Currency of your prices': 'EUR, Euro',
    'Time zone': 'Europe/Berlin',
    'Tax on your invoices': 'VAT',
    'Usual rate': '19',
  })
  await press(own, 'Make the studio')
  await page.getByRole('heading', { level: 1, name: 'Board' }).waitFor()
}

/** The studio's address, without which no invoice may go out, and its price list. */
export async function setUpStudio(page: Page): Promise<void> {
  await goTo(page, 'Studio')
  await fillIn(page, {
    'Street and number': 'Am Mühlteich 4',
    'Postal code': '04109',
    Town: 'Leipzig',
    'Tax number': 'DE000000000',
  })
  await press(page, 'Save')
  await hear(page, 'Saved.')
  await follow(page, 'Price lists')
  await follow(page, 'Add a price list')
  await fillIn(page, { Name: 'Standard' })
  await press(page, 'Add a price')
  await fillIn(page, {
    'Size, row 1': 'Medium',
    'Deliverable, row 1': 'Frame set',
    'First of a family, row 1': '120.00',
    'Following, row 1': '90.00',
  })
  await press(page, 'Save')
  await hear(page, 'Standard is saved.')
}

/** A client with a contact, and a standing brief of few frames. */
export async function addClient(page: Page): Promise<void> {
  await goTo(page, 'Clients')
  await follow(page, 'Add a client')
  const address = page.getByRole('group', { name: 'Name and address' })
  await fillIn(address, {
    Name: 'Brackwell Ceramics',
    Trade: 'ceramics',
    'Street and number': 'Kiln Row 12',
    'Postal code': '20095',
    Town: 'Hamburg',
    Country: 'Germany',
  })
  await press(page, 'Add a person')
  await fillIn(page.getByRole('group', { name: 'People' }), { Name: 'Tove Arlund' })
  const delivered = page.getByRole('group', { name: 'What is delivered of each spin' })
  await press(delivered, 'Take away loop')
  await fillIn(delivered, { Frames: '24', Width: '1200', Height: '1200' })
  await fillIn(page.getByRole('group', { name: 'Rows, one turn each' }), {
    'Frames per turn': '24',
    Overlap: '2',
  })
  await press(page, 'Add the client')
  await page.getByRole('heading', { level: 1, name: 'Brackwell Ceramics' }).waitFor()
}

// As a client's spreadsheet writes it: sizes in cm with a comma, and one row without a size that can be read.
const productList = [
  'Article;Description;Range;Width (cm);Depth (cm);Height (cm);Weight (g)',
  'BW-101;Jug, tall;Slipware;14,5;11;21;820',
  'BW-102;Jug, low;Slipware;16;12,5;13;760',
  'BW-103;Bowl;Slipware;wide;20;8;640',
].join('\r\n')

/** The client's product list, dropped on the page as a file; its bad row is told and left out. */
export async function takeInProducts(page: Page): Promise<void> {
  await follow(page, 'Take in a list')
  const dropped = await page.evaluateHandle((text) => {
    const data = new DataTransfer()
    data.items.add(new File([text], 'brackwell.csv', { type: 'text/csv' }))
    return data
  }, productList)
  await page.getByText('Drop the product list here').dispatchEvent('drop', { dataTransfer: dropped })
  await see(page, 'brackwell.csv, 3 rows')
  const bad = page.getByRole('table', { name: 'Rows that cannot be taken' })
  await bad.getByRole('row').filter({ hasText: 'BW-103' }).waitFor()
  await press(page, 'Take 2 good rows')
  await hear(page, '2 added, 0 changed for Brackwell Ceramics.')
}

/** A platter and a rig on it. */
export async function writeDownRig(page: Page): Promise<void> {
  await goTo(page, 'Rigs')
  await follow(page, 'Platters')
  await press(page, 'Add a platter')
  const platter = await dialog(page, 'Add a platter')
  await fillIn(platter, { Name: 'Platter 400', Rim: '1260', 'Load limit': '20000' })
  await press(platter, 'Add the platter')
  await hear(page, 'Platter 400 is kept.')
  await goTo(page, 'Rigs')
  await follow(page, 'Write down a rig')
  await fillIn(page, {
    Name: 'White sweep',
    'For products that are': 'medium',
    Platter: 'Platter 400, rim 1,260 mm',
    Backdrop: 'white sweep',
    Camera: 'full frame, 24 MP',
    'Sensor width': '36',
    'Sensor height': '24',
    'Pixels across': '6000',
    'Pixels down': '4000',
    Lens: '100 mm macro',
    'Focal length': '100',
    'Distance to the axis': '1400',
    'Height over the platter': '250',
  })
  await press(page, 'Add a light')
  await fillIn(page.getByRole('listitem', { name: 'Light A' }), { Light: 'softbox', Height: '900' })
  await press(page, 'Write down the rig')
  await page.getByRole('heading', { level: 1, name: 'White sweep' }).waitFor()
}
