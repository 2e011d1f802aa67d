/** Written next. */
export function Protocols() {
  return <main />;
}
