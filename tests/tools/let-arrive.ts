import { afterAll, vi } from 'vitest';

// Files share their modules: a part that a session loads by itself has to arrive before its file is put away,
// or it would count as broken in the files that follow.
afterAll(() => vi.dynamicImportSettled());
