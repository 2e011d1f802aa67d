/** How an accepted yearly rate is told, wherever it is named: of which end point, and whose choice it is. */

export interface AcceptedTold {
  /** `2.0 %` */
  readonly rate: string;
  readonly endPoint: string;
  /** The clinic fixed it; else it is what the app takes. */
  readonly isOwn: boolean;
}

/** `2.0 % a year for retention, the clinic’s choice, without a source` */
export const acceptedRate = ({ rate, endPoint, isOwn }: AcceptedTold): string =>
  `${rate} a year for ${endPoint.toLowerCase()}, ${isOwn ? 'the clinic’s choice' : 'a choice of this app'}, without a source`;
