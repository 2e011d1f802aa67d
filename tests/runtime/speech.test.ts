import { describe, expect, test } from 'vitest';
import {
  createSpeech,
  type UtteranceLike,
  type VoiceLike,
} from '../../src/runtime/sound/speech.ts';

type Said = UtteranceLike<VoiceLike> & { readonly words: string };
const voice = (lang: string, more: Partial<VoiceLike> = {}): VoiceLike => ({
  lang,
  localService: true,
  default: false,
  ...more,
});

function speaker(voices: VoiceLike[]) {
  const said: Said[] = [];
  let cancels = 0;
  let onVoices: () => void = () => undefined;
  const speech = createSpeech<VoiceLike, Said>({
    lang: 'en-GB',
    makeUtterance: (words) => ({ words, voice: null, lang: '', volume: 1 }),
    synthesis: {
      getVoices: () => voices,
      speak: (utterance) => said.push(utterance),
      cancel: () => {
        cancels += 1;
      },
      addEventListener: (_, listener) => {
        onVoices = listener;
      },
    },
  });
  return { speech, said, cancels: () => cancels, listVoices: () => onVoices() };
}

describe('speech', () => {
  test('never uses a voice that needs the network', () => {
    const { speech, said } = speaker([voice('en-GB', { localService: false })]);
    expect(speech.status.getState()).toBe('no-local-voice');
    speech.speak('rinse twelve');
    expect(said).toEqual([]);
  });

  test.each([
    ['same region before default', [voice('en-US', { default: true }), voice('en-GB')], 'en-GB'],
    ['same language', [voice('de-DE', { default: true }), voice('en-AU')], 'en-AU'],
    ['tag with an underscore', [voice('en_GB')], 'en_GB'],
  ])('chooses a voice: %s', (_, voices, lang) => {
    const { speech, said } = speaker(voices);
    speech.speak('rinse twelve');
    expect(said.map((one) => [one.words, one.voice?.lang])).toEqual([['rinse twelve', lang]]);
  });

  test('breaks off old words for new ones', () => {
    const { speech, said, cancels } = speaker([voice('en-GB')]);
    speech.speak('rinse twelve');
    speech.speak('rinse eleven');
    expect(said.map(({ words }) => words)).toEqual(['rinse twelve', 'rinse eleven']);
    expect(cancels()).toBe(2);
  });

  test('finds voices that are listed late', () => {
    const voices: VoiceLike[] = [];
    const { speech, listVoices } = speaker(voices);
    expect(speech.status.getState()).toBe('no-local-voice');
    voices.push(voice('en-GB'));
    listVoices();
    expect(speech.status.getState()).toBe('ready');
  });

  test('says so where there is no speech', () => {
    const speech = createSpeech<VoiceLike, Said>({
      lang: 'en',
      synthesis: undefined,
      makeUtterance: (words) => ({ words, voice: null, lang: '', volume: 1 }),
    });
    speech.speak('nothing');
    expect(speech.status.getState()).toBe('unsupported');
  });
});
