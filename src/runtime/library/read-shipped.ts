/** Reads a document that ships with the app: compressed in a build, plain while developing. */

/** The document behind an address made by `?packed`; rejects when it is not there. */
export async function readShipped(address: unknown): Promise<unknown> {
  const response = await fetch(String(address));
  if (!response.ok || response.body === null) {
    throw new Error(`${String(address)}: expected a shipped document, got ${response.status}`);
  }
  const isPacked = String(address).endsWith('.packed');
  const body = isPacked
    ? response.body.pipeThrough(new DecompressionStream('gzip'))
    : response.body;
  return JSON.parse(await new Response(body).text());
}
