/** The device identifiers of a sheet as they are typed: with blanks between them. */
import { isDeviceIdentifier } from '../../../runtime/stock/stock-history.ts';

/** The first whose check digit is wrong; null when there is none. */
export function wrongIdentifier(text: string): string | null {
  return text.split(/\s+/).find((one) => one !== '' && !isDeviceIdentifier(one)) ?? null;
}
