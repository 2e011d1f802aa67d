export function Exchange(_: { readonly draft: string | undefined }) {
  return null;
}
