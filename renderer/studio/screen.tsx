import { Navigate, NavLink, Route, Routes, useParams } from 'react-router'
import { Page } from '../parts/page.tsx'
import { NoSuchPage } from '../shell/noSuchPage.tsx'
import { useStudio } from '../shell/studio.ts'
import { BackupSection } from './backup.tsx'
import { BenchesSection } from './benches.tsx'
import { CashRoundingSection } from './cashRounding.tsx'
import { CheckLimitsSection } from './checkLimits.tsx'
import { FinishingSection } from './finishing.tsx'
import { HolidaysPage } from './holidaysPage.tsx'
import { MoneySection } from './money.tsx'
import { NameSection } from './name.tsx'
import { NumbersSection } from './numbers.tsx'
import { PeopleSection } from './people.tsx'
import { PlanningSection } from './planning.tsx'
import { PreparationSection } from './preparation.tsx'
import { PriceListPage } from './priceList.tsx'
import { PricesSection } from './prices.tsx'
import css from './screen.module.css'
import { TaxSection } from './tax.tsx'
import { TermsSection } from './terms.tsx'
import { TimesSection } from './times.tsx'

const sections = [
  ['name', 'Name and address'],
  ['money', 'Money and terms'],
  ['terms', 'Bench time terms'],
  ['tax', 'Tax and rounding'],
  ['times', 'Times'],
  ['finishing', 'Finishing'],
  ['preparation', 'Preparation'],
  ['prices', 'Price lists'],
  ['people', 'People'],
  ['benches', 'Benches and hours'],
  ['planning', 'Planning'],
  ['check', 'Take check'],
  ['numbers', 'Numbers'],
  ['backup', 'Backup'],
] as const

/** The studio's own facts and figures: a section each, under one address each. */
export function Screen() {
  const { name } = useStudio()
  return (
    <Page title="Studio" windowTitle={`${useSectionWord()}, Studio`} lead={name}>
      <div className={css.studio}>
        <nav className={css.sections} aria-label="Parts of the studio’s settings">
          {sections.map(([path, word]) => (
            <NavLink
              key={path}
              to={`/studio/${path}`}
              className={({ isActive }) => (isActive ? `${css.section} ${css.here}` : (css.section ?? ''))}
            >
              {word}
            </NavLink>
          ))}
        </nav>
        <Routes>
          <Route index element={<Navigate to="/studio/name" replace />} />
          <Route path="name" element={<NameSection />} />
          <Route path="money" element={<MoneySection />} />
          <Route
            path="tax"
            element={
              <div className={css.parts}>
                <TaxSection />
                <CashRoundingSection />
              </div>
            }
          />
          <Route path="terms" element={<TermsSection />} />
          <Route path="times" element={<TimesSection />} />
          <Route path="finishing" element={<FinishingSection />} />
          <Route path="preparation" element={<PreparationSection />} />
          <Route path="prices" element={<PricesSection />} />
          <Route path="prices/:priceListId" element={<PriceListPage />} />
          <Route path="people" element={<PeopleSection />} />
          <Route path="benches" element={<BenchesSection />} />
          <Route path="benches/holidays" element={<HolidaysPage />} />
          <Route path="planning" element={<PlanningSection />} />
          <Route path="check" element={<CheckLimitsSection />} />
          <Route path="numbers" element={<NumbersSection />} />
          <Route path="backup" element={<BackupSection />} />
          <Route path="*" element={<NoSuchPage />} />
        </Routes>
      </div>
    </Page>
  )
}

/** Which part of the settings one is at. */
function useSectionWord(): string {
  const at = useParams()['*'] ?? ''
  if (at === 'prices/new') return 'New price list'
  if (at.startsWith('prices/')) return 'A price list'
  if (at === 'benches/holidays') return 'Public holidays'
  return sections.find(([path]) => path === at)?.[1] ?? 'Parts'
}
