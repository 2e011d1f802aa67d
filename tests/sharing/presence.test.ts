/** Who of the clinic is there: what a beat shows, and what one that was recorded does not. */
import { afterEach, expect, it } from 'vitest';
import { hereSubject } from '../../src/sync/subjects.ts';
import {
  type Clinic,
  clinic,
  paired,
  SITE,
  settled,
  type TabletParts,
  TestTablet,
  until,
} from './clinic.ts';

let tablets: TestTablet[] = [];
afterEach(async () => {
  for (const tablet of tablets) await tablet.off();
  tablets = [];
});

const DAY_MS = 86_400_000;

async function on(of: Clinic, parts: TabletParts, nowMs?: number): Promise<TestTablet> {
  const tablet = new TestTablet(of, parts, { lag: (ms) => ms / 20 });
  tablet.nowMs = nowMs ?? tablet.nowMs;
  tablets.push(await tablet.on());
  return tablet;
}

async function off(tablet: TestTablet): Promise<void> {
  await tablet.off();
  tablets = tablets.filter((each) => each !== tablet);
}

it('two tablets hear each other', async () => {
  const of = await clinic();
  const [a, b] = [await on(of, await paired(of, 'a')), await on(of, await paired(of, 'b'))];
  await until(() => a.engine.heard.has('b') && b.engine.heard.has('a'), 'both');
  await settled(of.hub, tablets);
});

it('a tablet whose clock was set back is heard at once after it was loaded anew', async () => {
  const of = await clinic();
  const forA = await paired(of, 'a');
  const [a, b] = [await on(of, forA), await on(of, await paired(of, 'b'))];
  await until(() => b.engine.heard.get('a')?.owed === 0, 'a to be heard');
  await settled(of.hub, tablets);
  await off(a);
  b.nowMs += 10_000;
  const again = await on(of, forA, a.nowMs - 3_600_000);
  await until(
    () => b.engine.heard.get('a')?.atWallMs === b.nowMs,
    'a after its clock was set right',
  );
  await until(() => again.engine.heard.has('b'), 'b');
});

it('a beat of another day does not show a tablet that is not there, on one just loaded', async () => {
  const of = await clinic();
  const forB = await paired(of, 'b');
  const [a, b] = [await on(of, await paired(of, 'a')), await on(of, forB)];
  const recorded: Uint8Array<ArrayBuffer>[] = [];
  const subject = hereSubject({ site: SITE, device: 'a' });
  const stop = of.hub.open('b').live.subscribe(subject, (_, data) => void recorded.push(data));
  await until(() => b.engine.heard.has('a') && recorded.length > 2, 'a to be heard');
  await settled(of.hub, tablets);
  stop();
  await off(a);
  await off(b);
  const later = await on(of, forB, b.nowMs + 30 * DAY_MS);
  await until(() => later.engine.isShared, 'b to have read');
  const replay = of.hub.open('a');
  for (const data of recorded) replay.live.publish(subject, data);
  await new Promise((resolve) => setTimeout(resolve, 300));
  expect(later.engine.heard.has('a')).toBe(false);
  // That it hears at all is seen by one that is there.
  await on(of, await paired(of, 'c'), later.nowMs);
  await until(() => later.engine.heard.has('c'), 'c');
});
