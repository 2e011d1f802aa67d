/** The sheets that open over the chair. */
export type SheetName =
  | 'more'
  | 'went-wrong'
  | 'other-steps'
  | 'note'
  | 'speed'
  | 'wipe'
  | 'bead'
  | 'shade'
  | 'people'
  | 'numbering'
  | 'stop-visit'
  | 'order'
  | 'why'
  | 'materials'
  | 'aside'
  | 'reason'
  | 'anaesthesia';
