/** What stands under every output that shows a hung bag, and what no output may say of it. */
import { expect, it } from 'vitest';
import {
  CAUTIONS,
  changesJson,
  changesSvg,
  changesText,
  compareText,
  HANGING_CAUTIONS,
  htmlReport,
  picture,
  resultJson,
  resultsJson,
  stancesText,
  textReport,
} from '../../src/report/index.ts';
import type { BandRun, Result } from '../../src/report/types.ts';
import { resultOf, runWith } from './results.ts';

const hanging: NonNullable<BandRun['hung']> = {
  upright: [0, 0, 1],
  tilt: 0.01,
  tiltSideways: 0.01,
  tiltForward: 0,
  mouthDroop: 0.01,
  mouthKept: 0.98,
  baseSag: 0.004,
  centreOfMass: [0, 0, 0.1],
  weight: 21,
  carried: [0, 0, 21],
  slid: 0,
  straps: [],
};
const strain = { limit: 0.05, stated: false, parts: [{ kind: 'strap', name: 'handle', strain: 0.08 }] } as unknown as NonNullable<BandRun['strain']>;
const hung = { ...resultOf([runWith({ heightKept: null, hangTilt: 0.01, mouthSag: 0.02, baseSag: 0.004 }, { hung: hanging, strain })]), stance: 'hung' };
const standing = resultOf([runWith({})]);
const changed = {
  bag: 'Tote',
  option: 'canvas',
  stance: 'hung',
  hung: true,
  wanted: 'structured' as const,
  edgeLength: 0.02,
  runs: 1,
  asDrawn: {
    word: 'holds',
    reason: '',
    meetsWanted: null,
    fit: null,
    margin: 0.5,
    rimHeight: null,
    baseSag: 0.004,
    massKg: 0.1,
    status: 'settled',
    residual: 1e-5,
  } as const,
  changes: [],
};

const outputs: Readonly<Record<string, (results: readonly Result[]) => string>> = {
  'the report': (r) => textReport(r[0]!),
  'options side by side': compareText,
  'stances under one another': stancesText,
  'JSON of one result': (r) => resultJson(r[0]!),
  'JSON of several': resultsJson,
  'the printed page': htmlReport,
  'the picture': picture,
};
/** Words without the marks that JSON, XML and broken lines put between them. */
const plain = (text: string): string =>
  text
    .replace(/<[^>]*>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, ' ');

it.each(Object.keys(outputs))('%s of a hung bag has both cautions about straps', (name) => {
  const text = plain(outputs[name]!([hung]));
  for (const c of HANGING_CAUTIONS) expect(text).toContain(c);
});

it('one hung stance among others is enough', () => {
  for (const text of [stancesText([standing, hung]), compareText([standing, hung]), htmlReport([standing, hung])])
    for (const c of HANGING_CAUTIONS) expect(plain(text)).toContain(c);
  expect(textReport(standing)).not.toContain('swing');
});

it('changes of a hung bag have them as text, as JSON and in the picture; of a standing one they do not', () => {
  for (const text of [changesText(changed), changesJson(changed), changesSvg(changed)]) for (const c of HANGING_CAUTIONS) expect(plain(text)).toContain(c);
  expect(changesText({ ...changed, hung: false })).not.toContain('swing');
});

it('nothing reads as a capacity: no output says bears, carries up to, taken to carry, holds so many newtons, or safe', () => {
  for (const f of Object.values(outputs)) {
    let text = plain(f([hung]));
    for (const c of [...HANGING_CAUTIONS, ...CAUTIONS]) text = text.replaceAll(c, '');
    expect(text).not.toMatch(/\bbears?\b|taken to carry|carr(y|ies) up to|holds \d|\bcapacity\b|\bsafe/i);
  }
  expect(plain(textReport(hung))).toContain('strains past 5 % are pointed out');
});
