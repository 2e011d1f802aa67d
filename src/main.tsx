import '@fontsource-variable/atkinson-hyperlegible-next';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { present } from './base/assert.ts';

const root = present(document.getElementById('root'), 'the element with id root');

createRoot(root).render(
  <StrictMode>
    <h1>Lutewatch</h1>
  </StrictMode>,
);

if (import.meta.env.PROD) void navigator.serviceWorker.register('/service-worker.js');
