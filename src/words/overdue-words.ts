/** Words of the banner about numbers whose review is due; apart, because every page may show it. */
export const overdueWords = {
  overdue: (o: { readonly count: number; readonly protocol: string }): string =>
    o.count === 1
      ? `One number is due for review: ${o.protocol}`
      : `${o.count} numbers are due for review: ${o.protocol}`,
  overdueMore: (titles: string): string =>
    `${titles}. Compare with the newest instructions, then confirm a new revision.`,
  open: 'The lead’s desk',
} as const;
