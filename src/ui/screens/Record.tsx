export function Record(_props: { readonly caseId: string }) {
  return <main />;
}
