/** Hands a text to the browser as a file to keep. Nothing leaves the device by itself. */
export function saveFile(o: { readonly name: string; readonly text: string }): void {
  const url = URL.createObjectURL(new Blob([o.text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = o.name;
  link.click();
  // The browser has taken its copy by the next turn.
  setTimeout(() => URL.revokeObjectURL(url), 0);
}
