/** Pictures for the decoder: frames of the tablet's camera, or a still photograph from a file. */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Pixels } from './scanner-messages.ts';

/** Widest picture that is looked at; more only costs time. */
const FRAME_PX_MAX = 1280;
const STILL_PX_MAX = 2200;

export interface Camera {
  /** The present frame; null while there is none yet. */
  grab(): Pixels | null;
  stop(): void;
}

/** Whether this window may ask for a camera at all. */
export const hasCamera = (navigator: Navigator): boolean => 'mediaDevices' in navigator;

function draw(
  source: CanvasImageSource,
  o: { readonly width: number; readonly height: number; readonly pxMax: number },
): Pixels | null {
  const scale = Math.min(1, o.pxMax / Math.max(o.width, o.height));
  const width = Math.round(o.width * scale);
  const height = Math.round(o.height * scale);
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (context === null || width === 0 || height === 0) return null;
  context.drawImage(source, 0, 0, width, height);
  const { data } = context.getImageData(0, 0, width, height);
  return { width, height, data: new Uint8ClampedArray(data) };
}

function refused(cause: unknown): Problem {
  const name = cause instanceof DOMException ? cause.name : `${cause}`;
  const code = name === 'NotAllowedError' ? 'camera-not-allowed' : 'no-camera';
  return problem('camera', 'the picture of a camera', name, code);
}

/** Shows the camera on the back of the tablet in `video`. Errors: `camera-not-allowed`, `no-camera`. */
export async function openCamera(video: HTMLVideoElement): Promise<Result<Camera, Problem>> {
  if (!hasCamera(navigator)) return err(refused('no media devices'));
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: 'environment', width: { ideal: FRAME_PX_MAX } },
    });
  } catch (cause) {
    return err(refused(cause));
  }
  const stop = (): void => {
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
  try {
    video.srcObject = stream;
    await video.play();
  } catch (cause) {
    stop();
    return err(refused(cause));
  }
  return ok({
    grab: () =>
      video.readyState < video.HAVE_CURRENT_DATA
        ? null
        : draw(video, { width: video.videoWidth, height: video.videoHeight, pxMax: FRAME_PX_MAX }),
    stop,
  });
}

/** The pixels of a photograph. Error: `not-a-picture`. */
export async function stillPixels(file: Blob): Promise<Result<Pixels, Problem>> {
  try {
    const bitmap = await createImageBitmap(file);
    const { width, height } = bitmap;
    const pixels = draw(bitmap, { width, height, pxMax: STILL_PX_MAX });
    bitmap.close();
    if (pixels !== null) return ok(pixels);
  } catch {
    // Told below: the file is no picture that this browser can open.
  }
  return err(problem('photo', 'a photograph', file.type, 'not-a-picture'));
}
