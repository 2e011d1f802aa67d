/**
 * How long such visits took elsewhere, to set a planned chair time beside. Whole visits for one
 * restoration; for several there is no published figure. Minutes are means of the dentist's time.
 */

interface PublishedVisit {
  readonly what: 'adhesive-ceramic-alone' | 'adhesive-ceramic-assisted' | 'ceramic-inlay';
  readonly meanMinutes: number;
  readonly sdMinutes: number;
  readonly source: string;
}

const WURBS = 'Wurbs et al., J Dent 2006;34:450-453, ten patients, one dentist';

export const PUBLISHED_VISITS: readonly PublishedVisit[] = [
  { what: 'adhesive-ceramic-assisted', meanMinutes: 53, sdMinutes: 14, source: WURBS },
  { what: 'adhesive-ceramic-alone', meanMinutes: 111, sdMinutes: 24, source: WURBS },
  {
    what: 'ceramic-inlay',
    meanMinutes: 67,
    sdMinutes: 22,
    source: 'Moscovich, Kreulen, Creugers & Dansen, J Dent 1998, 173 inlays, seven dentists',
  },
];
