/** Written next. */
export function Glance() {
  return <main />;
}
