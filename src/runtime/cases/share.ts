/** Hands files over: to the platform's share sheet where it takes files, else as a download. */

export interface SharedFile {
  readonly name: string;
  readonly type: string;
  readonly content: Blob | string;
}

/** The part of the navigator that is used. */
interface Sharing {
  share?(data: { readonly files: File[]; readonly title: string }): Promise<void>;
  canShare?(data: { readonly files: File[] }): boolean;
}

/** Type without parameters: share sheets do not know them. */
const plainType = (type: string): string => type.split(';')[0] ?? type;

function fileOf({ name, type, content }: SharedFile): File {
  return new File([content], name, { type: plainType(type) });
}

/** Whether the share sheet would take this file. */
export function canShare(navigator: Sharing, file: SharedFile): boolean {
  try {
    return navigator.canShare?.({ files: [fileOf(file)] }) === true;
  } catch {
    return false;
  }
}

/**
 * Opens the share sheet.
 * @returns whether the file was handed over; false when the person turned back.
 */
export async function shareFile(navigator: Sharing, file: SharedFile): Promise<boolean> {
  try {
    await navigator.share?.({ files: [fileOf(file)], title: file.name });
    return navigator.share !== undefined;
  } catch {
    return false;
  }
}

/** Long enough for a slow tablet to have taken its copy. */
const RELEASE_AFTER_MS = 60_000;

/** Has the browser save the file. */
export function saveFile(file: SharedFile): void {
  const url = URL.createObjectURL(fileOf(file));
  const link = document.createElement('a');
  link.href = url;
  link.download = file.name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), RELEASE_AFTER_MS);
}
