/** Lets whatever else waits have its turn: a long piece of work must not hold the page. */
export const othersTurn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));
