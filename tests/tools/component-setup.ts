import '@testing-library/jest-dom/vitest';
import { cleanup, configure } from '@testing-library/react';
import { afterEach, vi } from 'vitest';

// Testing Library cleans up by itself only where test functions are globals; here they are imported.
afterEach(cleanup);

// A busy machine draws late: what is waited for may take longer than the second of the library.
configure({ asyncUtilTimeout: 15_000 });
vi.setConfig({ testTimeout: 30_000 });
