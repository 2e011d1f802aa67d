export function ProtocolDetail(_props: { readonly id: string }) {
  return <main />;
}
