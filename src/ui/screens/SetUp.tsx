export function SetUp(_props: { readonly id: string | undefined }) {
  return <main />;
}
