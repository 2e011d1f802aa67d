import { Link } from 'wouter';
import { stockWords } from '../../../words/material-stock-words.ts';
import { useSession } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';

/** The way to the product sheet of a box, where the clinic has one for its device identifier. */
export function SheetOfBox({ deviceIdentifier }: { readonly deviceIdentifier: string }) {
  const { stock } = useSession();
  const found = useLoaded(() => stock.sheetOf(deviceIdentifier), [stock, deviceIdentifier]).value;
  if (found === undefined || found === null) return null;
  return (
    <p>
      <Link className="lw-way" href={`/lead/sheets/${found.id}`}>
        {stockWords.sheet(found)}
      </Link>
    </p>
  );
}
