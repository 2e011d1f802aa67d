/** Another tab wants to change or delete the database: holding on would block it for ever. */
export function giveWay(_current: number, _blocked: number | null, event: Event): void {
  if (event.target instanceof IDBDatabase) event.target.close();
}
