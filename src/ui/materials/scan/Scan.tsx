import { type RefObject, useEffect, useRef, useState } from 'react';
import type { Problem } from '../../../base/problem.ts';
import { isMissing } from '../../../calc/udi/label-fault.ts';
import {
  type Camera,
  hasCamera,
  openCamera,
  stillPixels,
} from '../../../runtime/scanner/camera.ts';
import { SLOW_GAP_MS_MAX, Wedge, withSeparators } from '../../../runtime/scanner/scanner.ts';
import {
  isSoundLabel,
  readScans,
  type ScannedLabel,
} from '../../../runtime/scanner/scanner-label.ts';
import type { Times } from '../../../words/date-words.ts';
import { scanFailureWords, scanWords } from '../../../words/scan-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { useTimes } from '../../shared/session-context.ts';
import { ScanReadBack } from './ScanReadBack.tsx';
import { ScanSeparator } from './ScanSeparator.tsx';
import { type CodeReader, useCodeReader } from './scan-reader.ts';

/** Between two frames of the camera that are looked at. */
const FRAME_EVERY_MS = 220;

interface WedgeEars {
  readonly onLabel: (text: string) => void;
  readonly onTooSlow: (gapMs: number) => void;
}

/** Takes the keys of a typing scanner while the sheet is open, wherever the focus is. */
function useWedge(separator: string, ears: WedgeEars): void {
  const times = useTimes();
  const latest = useRef({ ...ears, times });
  latest.current = { ...ears, times };
  useEffect(() => {
    const isLabel = (text: string): boolean =>
      isSoundLabel(text, { presentYear: presentYear(latest.current.times) });
    const wedge = new Wedge({ replacement: separator, isLabel });
    const onKey = (event: KeyboardEvent): void => {
      const { key, ctrlKey, repeat, timeStamp } = event;
      const outcome = wedge.take({ key, ctrlKey, isRepeat: repeat, atMs: timeStamp });
      const isInField = event.target instanceof HTMLInputElement;
      const isOurs =
        outcome.kind === 'label' ||
        (!isInField && (outcome.kind === 'too-slow' || (outcome.kind === 'burst' && key === ' ')));
      if (!isOurs) return;
      // The Enter of the scanner, or a blank, must not press what happens to have the focus.
      event.preventDefault();
      event.stopImmediatePropagation();
      if (outcome.kind === 'label') latest.current.onLabel(outcome.text);
      if (outcome.kind === 'too-slow') latest.current.onTooSlow(outcome.gapMs);
    };
    window.addEventListener('keydown', onKey, { capture: true });
    return () => window.removeEventListener('keydown', onKey, { capture: true });
  }, [separator]);
}

interface ScanProps {
  readonly onClose: () => void;
  readonly onTake: (scan: ScannedLabel) => void;
  /** The code was not taken over; what it says is shown beside the form. */
  readonly onByHand: (printed: string) => void;
}

/** Years of two digits are read around the present one. */
const presentYear = (times: Times): number => Number.parseInt(times.isoDay(Date.now()), 10);

const read = (scans: readonly string[], times: Times): ScannedLabel | null => {
  return scans.length === 0 ? null : readScans(scans, { presentYear: presentYear(times) });
};

const isRefused = (scans: readonly string[], times: Times): boolean =>
  read(scans, times)?.label.faults.some((fault) => !isMissing(fault)) === true;

/** Scans one label, in one code or two, and reads it back before anything is taken over. */
export function ScanSheet(props: ScanProps) {
  const separator = useStock((s) => s.separator);
  const times = useTimes();
  const [scans, setScans] = useState<readonly string[]>([]);
  const take = (texts: readonly string[]): void => {
    setSlowMs(null);
    // A code that was refused is put right by scanning it again, not by adding to it.
    setScans((before) => [...new Set([...(isRefused(before, times) ? [] : before), ...texts])]);
  };
  const [slowMs, setSlowMs] = useState<number | null>(null);
  useWedge(separator, { onLabel: (text) => take([text]), onTooSlow: setSlowMs });
  const scan = read(scans, times);
  return (
    <Sheet open width="wide" title={scanWords.title} onClose={props.onClose}>
      {scan !== null && (
        <ScanReadBack
          scan={scan}
          onTake={() => props.onTake(scan)}
          onAgain={() => setScans([])}
          onByHand={() => props.onByHand(scan.text)}
        />
      )}
      {(scan === null || (!scan.isWhole && scan.label.issuer !== null)) && (
        <>
          {slowMs !== null && (
            <p className="scan-failure" role="alert">
              {scanWords.tooSlow({ gapMs: slowMs, gapMsMax: SLOW_GAP_MS_MAX })}
            </p>
          )}
          <Ways separator={separator} onRead={take} />
        </>
      )}
    </Sheet>
  );
}

function Ways(o: {
  readonly separator: string;
  readonly onRead: (texts: readonly string[]) => void;
}) {
  const [typed, setTyped] = useState('');
  const reader = useCodeReader();
  return (
    <div className="scan">
      <p className="scan-waiting">{scanWords.waiting}</p>
      <Eyes reader={reader} onRead={o.onRead} />
      <form
        className="scan-typed"
        onSubmit={(event) => {
          event.preventDefault();
          if (typed.trim() !== '') o.onRead([withSeparators(typed.trim(), o.separator)]);
          setTyped('');
        }}
      >
        <TextField
          label={scanWords.typed}
          hint={scanWords.typedHint}
          value={typed}
          onChange={setTyped}
        />
        <Button type="submit" disabled={typed.trim() === ''}>
          {scanWords.typedDo}
        </Button>
      </form>
      <Disclosure summary={scanWords.settings}>
        <ScanSeparator />
      </Disclosure>
    </div>
  );
}

/** The camera and the photograph, with what is known about the decoder. */
function Eyes(o: {
  readonly reader: CodeReader;
  readonly onRead: (texts: readonly string[]) => void;
}) {
  const video = useRef<HTMLVideoElement>(null);
  const [isOn, setOn] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const { reader, onRead } = o;
  useCameraLoop({
    video,
    isOn,
    reader,
    onRead,
    onFailed: (problem) => {
      setOn(false);
      setFailure(scanFailureWords(problem));
    },
  });
  const photo = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setFailure(null);
    const pixels = await stillPixels(file);
    const read = pixels.ok ? await reader.decode(pixels.value, { isStill: true }) : pixels;
    if (!read.ok) setFailure(scanFailureWords(read.error));
    else if (read.value.length === 0) setFailure(scanWords.noneInPhoto);
    else onRead(read.value);
  };
  return (
    <div className="scan-eyes">
      <video
        ref={video}
        className="scan-video"
        aria-label={scanWords.cameraLabel}
        hidden={!isOn}
        muted
        playsInline
      />
      <div className="scan-buttons">
        {hasCamera(navigator) && (
          <Button
            on={isOn}
            onPress={() => {
              setFailure(null);
              setOn(!isOn);
            }}
          >
            {isOn ? scanWords.cameraOff : scanWords.camera}
          </Button>
        )}
        <label className="lw-button lw-file">
          {scanWords.photo}
          <input
            type="file"
            accept="image/*"
            capture="environment"
            onChange={(event) => {
              void photo(event.target.files?.[0]);
              event.target.value = '';
            }}
          />
        </label>
      </div>
      {failure !== null && (
        <p className="scan-failure" role="alert">
          {failure}
        </p>
      )}
      <p className="lw-quiet">{reader.words}</p>
    </div>
  );
}

/** Looks at a frame now and then until a code was read or the camera is switched off. */
function useCameraLoop(o: {
  readonly video: RefObject<HTMLVideoElement | null>;
  readonly isOn: boolean;
  readonly reader: CodeReader;
  readonly onRead: (texts: readonly string[]) => void;
  readonly onFailed: (problem: Problem) => void;
}): void {
  const latest = useRef(o);
  latest.current = o;
  useEffect(() => {
    if (!o.isOn) return undefined;
    let isStopped = false;
    let camera: Camera | null = null;
    const look = async (): Promise<void> => {
      const pixels = camera?.grab() ?? null;
      if (pixels !== null) {
        const read = await latest.current.reader.decode(pixels, { isStill: false });
        if (isStopped) return;
        if (!read.ok) return latest.current.onFailed(read.error);
        if (read.value.length > 0) latest.current.onRead(read.value);
      }
      setTimeout(() => void (isStopped ? undefined : look()), FRAME_EVERY_MS);
    };
    const begin = async (): Promise<void> => {
      const element = latest.current.video.current;
      if (element === null) return;
      const opened = await openCamera(element);
      if (!opened.ok) return latest.current.onFailed(opened.error);
      camera = opened.value;
      if (isStopped) camera.stop();
      else await look();
    };
    void begin();
    return () => {
      isStopped = true;
      camera?.stop();
    };
  }, [o.isOn]);
}
