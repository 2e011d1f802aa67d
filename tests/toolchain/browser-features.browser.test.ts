import { expect, test } from 'vitest';

test('a suite in the browser has the storage that the record stands on', async () => {
  const folder = await navigator.storage.getDirectory();
  const file = await folder.getFileHandle('toolchain-probe', { create: true });
  const writable = await file.createWritable();
  await writable.write('kept');
  await writable.close();
  expect(await (await file.getFile()).text()).toBe('kept');
  await folder.removeEntry('toolchain-probe');
  expect(indexedDB).toBeInstanceOf(IDBFactory);
});

test('text has a width, so that a layout can be measured', () => {
  const text = document.createElement('span');
  text.textContent = 'Lutewatch 12';
  document.body.append(text);
  expect(text.getBoundingClientRect().width).toBeGreaterThan(20);
  text.remove();
});
