/**
 * Which GS1 application identifiers (AI) exist, what their data may hold and whether their length
 * is pre-defined. After the GS1 Syntax Dictionary (Apache-2.0), with the parts of one data field
 * added up; only the AIs of a device label have their content looked at.
 */
import type { LabelFault } from './label-fault.ts';

interface AiRule {
  readonly kind: 'N' | 'X';
  readonly lengthMin: number;
  readonly lengthMax: number;
  /** Pre-defined length: no separator follows. */
  readonly fixed: boolean;
}

/** One line per group of AIs with the same rule: "kind min max fixed: AIs". */
const GROUPS = [
  'N 18 18 fixed: 00',
  'N 14 14 fixed: 01 02 03',
  'N 6 6 fixed: 11 12 13 15 16 17 310n 311n 312n 313n 314n 315n 316n 320n 321n 322n 323n 324n',
  'N 6 6 fixed: 325n 326n 327n 328n 329n 330n 331n 332n 333n 334n 335n 336n 337n 340n 341n 342n',
  'N 6 6 fixed: 343n 344n 345n 346n 347n 348n 349n 350n 351n 352n 353n 354n 355n 356n 357n 360n',
  'N 6 6 fixed: 361n 362n 363n 364n 365n 366n 367n 368n 369n',
  'N 2 2 fixed: 20',
  'N 13 13 fixed: 410 411 412 413 414 415 416 417',
  'X 1 20: 10 21 22 243 254 420 7020 7021 7022 710 711 712 713 714 715 716 7240 8002 8012 4318',
  'X 1 28: 235',
  'X 1 30: 240 241 250 251 400 401 403 90 4308 4319 7002 7023 8004 8010',
  'N 1 6: 242',
  'X 13 30: 253',
  'N 13 25: 255',
  'N 1 8: 30 37',
  'N 1 15: 390n',
  'N 4 18: 391n 393n',
  'N 1 15: 392n',
  'N 4 4: 3940 3941 3942 3943 8111',
  'N 6 6: 3950 3951 3952 3953 3954 3955 8005 4326 7006',
  'N 17 17: 402',
  'X 4 12: 421',
  'N 3 3: 422 424 426',
  'N 3 15: 423 425',
  'X 1 3: 427 7008',
  'X 1 35: 4300 4301 4310 4311 4320',
  'X 1 70: 4302 4303 4304 4305 4306 4312 4313 4314 4315 4316 8110 8112 8200',
  'X 2 2: 4307 4317',
  'N 20 20: 4309',
  'N 1 1: 4321 4322 4323',
  'N 10 10: 4324 4325 7003',
  'X 6 7: 4330 4331 4332 4333',
  'N 13 13: 7001',
  'N 1 4: 7004',
  'X 1 12: 7005',
  'N 6 12: 7007',
  'X 1 10: 7009',
  'X 1 2: 7010',
  'N 6 10: 7011',
  'X 4 30: 703n',
  'X 4 4: 7040',
  'X 1 4: 7041',
  'N 8 8: 7250',
  'N 12 12: 7251',
  'N 1 1: 7252',
  'X 1 40: 7253 7254 7259',
  'X 1 10: 7255',
  'X 1 90: 7256',
  'X 1 70: 7257',
  'X 3 3: 7258',
  'X 3 30: 723n',
  'N 2 2: 7241',
  'X 1 25: 7242 8013 8014 8020',
  'N 14 14: 8001',
  'X 14 30: 8003',
  'N 18 18: 8006 8017 8018 8026',
  'X 1 34: 8007',
  'N 8 12: 8008',
  'X 1 50: 8009',
  'N 1 12: 8011',
  'N 1 10: 8019',
  'X 1 90: 8030 91 92 93 94 95 96 97 98 99',
] as const;

/** The last digit of these AIs is free within 0 to this; 5 unless listed (decimal places). */
const LAST_DIGIT_MAX: Readonly<Record<string, number>> = {
  '390': 9,
  '391': 9,
  '392': 9,
  '393': 9,
  '703': 9,
  '723': 9,
};
const DECIMAL_PLACES_MAX = 5;

function parseGroup(line: string): [string, AiRule][] {
  const [head = '', tail = ''] = line.split(': ');
  const [kind, lengthMin, lengthMax, fixed] = head.split(' ');
  const rule: AiRule = {
    kind: kind === 'N' ? 'N' : 'X',
    lengthMin: Number(lengthMin),
    lengthMax: Number(lengthMax),
    fixed: fixed === 'fixed',
  };
  return tail.split(' ').map((ai) => [ai, rule]);
}

const RULES = new Map(GROUPS.flatMap(parseGroup));

/** The rule of an AI of two to four digits; null when it is not known. */
export function aiRule(ai: string): AiRule | null {
  const exact = RULES.get(ai);
  if (exact !== undefined) return exact;
  if (!/^\d{4}$/.test(ai)) return null;
  const family = ai.slice(0, 3);
  const rule = RULES.get(`${family}n`);
  const lastMax = LAST_DIGIT_MAX[family] ?? DECIMAL_PLACES_MAX;
  return rule === undefined || Number(ai[3]) > lastMax ? null : rule;
}

/** The AI with which an element string starts; null when none is known there. */
export function leadingAi(text: string): string | null {
  const found = [2, 3, 4]
    .map((length) => text.slice(0, length))
    .find((ai, at) => ai.length === at + 2 && aiRule(ai) !== null);
  return found ?? null;
}

/** GS1 character set 82: the printable characters that X data may hold. */
const CHARACTER_SET_82 = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]*$/;

/** What is wrong with the data of an AI; null when nothing is. */
export function aiFault(ai: string, data: string): LabelFault | null {
  const rule = aiRule(ai);
  if (rule === null) return { code: 'ai-unknown', ai };
  if (data.length < rule.lengthMin || data.length > rule.lengthMax) {
    const { lengthMin: min, lengthMax: max } = rule;
    return { code: 'ai-length', ai, min, max, has: data.length };
  }
  if (rule.kind === 'N' && !/^\d*$/.test(data)) return { code: 'ai-not-digits', ai };
  if (!CHARACTER_SET_82.test(data)) return { code: 'ai-character', ai };
  return null;
}
