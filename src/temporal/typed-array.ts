/**
 * Checked reads of typed arrays. A read outside the array gives NaN or -1, which no comparison
 * in this folder takes for a real entry. One function per array type keeps the engine's inline
 * caches monomorphic: a shared one measured about twice as slow.
 */

export const realAt = (array: Float64Array, index: number): number => array[index] ?? Number.NaN;

export const indexAt = (array: Int32Array, index: number): number => array[index] ?? -1;
