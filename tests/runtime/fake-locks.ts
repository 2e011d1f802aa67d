/** One named lock, shared or exclusive, with `ifAvailable`, as the Web Locks API (W3C, 2024) has it. */
export function fakeLocks(): Pick<LockManager, 'request'> {
  const holders: { readonly mode: string }[] = [];
  const changed: (() => void)[] = [];
  const isFree = (mode: string): boolean =>
    holders.every((other) => mode === 'shared' && other.mode === 'shared');
  async function request(...args: readonly unknown[]): Promise<unknown> {
    const [, options, callback] = args;
    if (typeof callback !== 'function' || typeof options !== 'object') throw new TypeError('call');
    const mode = String(Reflect.get(options ?? {}, 'mode') ?? 'exclusive');
    const isImpatient = Reflect.get(options ?? {}, 'ifAvailable') === true;
    if (!isFree(mode) && isImpatient) return callback(null);
    while (!isFree(mode)) await new Promise<void>((resolve) => changed.push(resolve));
    const own = { mode };
    holders.push(own);
    try {
      return await callback({ name: 'it', mode });
    } finally {
      holders.splice(holders.indexOf(own), 1);
      for (const tell of changed.splice(0)) tell();
    }
  }
  return { request };
}
