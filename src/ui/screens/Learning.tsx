export function Learning() {
  return null;
}
