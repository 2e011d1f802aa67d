/** Written next. */
export function Today() {
  return <main />;
}
