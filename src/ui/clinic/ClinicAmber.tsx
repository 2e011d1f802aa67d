import rowsUrl from '../../../shared/tables/blue-light-hazard.json?packed';
import crownsUrl from '../../../shared/tables/crown-dimensions.json?packed';
import primariesUrl from '../../../shared/tables/display-primaries.json?packed';
import { parsePrimaries } from '../../calc/display-light.ts';
import { parseCalcTables } from '../../calc/tables.ts';
import { readShipped } from '../../runtime/library/read-shipped.ts';
import { settingWords } from '../../words/setting-words.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { blueBeforeAndAfter, type Palette, WHITE_CD_PER_M2 } from './amber-model.ts';

/** The rules of a style sheet, those in its layers included. */
function* rulesOf(rules: CSSRuleList): Generator<CSSStyleRule> {
  for (const rule of rules) {
    if (rule instanceof CSSStyleRule) yield rule;
    else if (rule instanceof CSSLayerBlockRule) yield* rulesOf(rule.cssRules);
  }
}

/** A look as the style sheet of the app has it; it need not be the one that is on. */
function paletteOf(selector: string): Palette | null {
  for (const sheet of document.styleSheets) {
    for (const rule of rulesOf(sheet.cssRules)) {
      if (rule.selectorText !== selector) continue;
      const read = (name: string): string => rule.style.getPropertyValue(name).trim();
      if (read('--ground') !== '') return { ground: read('--ground'), ink: read('--ink') };
    }
  }
  return null;
}

async function readFigures(): Promise<{ readonly before: number; readonly after: number } | null> {
  const [rows, crowns, table] = await Promise.all(
    [rowsUrl, crownsUrl, primariesUrl].map(readShipped),
  );
  const tables = parseCalcTables({ blueLight: rows, crowns });
  const primaries = parsePrimaries(table);
  const before = paletteOf(':root');
  const after = paletteOf(':root[data-theme="amber"]');
  if (!tables.ok || !primaries.ok || before === null || after === null) return null;
  return blueBeforeAndAfter({
    before,
    after,
    primaries: primaries.value,
    rows: tables.value.blueLight,
  });
}

/** Blue light of this app's light look and of its amber one, weighted for the eye. */
export function ClinicAmber() {
  const { value: figures } = useLoaded(readFigures, []);
  if (!figures) return null;
  return (
    <p className="clinic-quiet">
      {settingWords.amberFigure({
        before: figures.before.toPrecision(2),
        after: figures.after.toPrecision(1),
        times: Number((figures.before / figures.after).toPrecision(2)),
        white: WHITE_CD_PER_M2,
      })}
    </p>
  );
}
