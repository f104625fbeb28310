/** The check values say truly what they rest on: statuses from a fixed list, published only with a work that was read, no addresses, no trade names. */
import { describe, expect, it } from 'vitest';
import { EVIDENCE_ROWS, presetNotes, presets } from '../../src/material/index.ts';
import { type Row, rows, statusWords } from './rows.ts';

const TRADE = 'common practice, no source';
const texts = (r: Row): string => [r.quantity, r.detail, r.source, r.status, r.tolerance, JSON.stringify(r.reference ?? '')].join(' ');
const wrongOf = (wrong: (r: Row) => boolean): string[] => rows.filter(wrong).map((r) => `${r.id} [${r.status}]: ${r.source}`);

/** A web address, with or without its scheme; "doi 10..." and "arXiv ..." are numbers of works, not addresses. */
const ADDRESS = /https?:|www\.|\b[\w-]+\.(?:com|org|net|edu|gov|io)\b/i;

/**
 * Words in capitals that may stand in the table. Test instruments are traded under such names, and their models have figures in them: a word that
 * is not here is either one of those or belongs on this list with its kind.
 */
const CAPITALS = new Set([
  ...['ISO', 'ASTM', 'BS', 'EN', 'GATE', 'US', 'ACM', 'TOG', 'TRJ', 'PRA'], // bodies and journals
  ...['ODE', 'EI', 'PL', 'ML', 'SS', 'DC', 'CLT', 'SI', 'SPI', 'MD', 'CD', 'MOE', 'EMT', 'LT', 'HB'], // mechanics and testing
  ...['PP', 'PE', 'PU', 'PET', 'PVC', 'LDPE', 'UF'], // polymers and resins
  ...['WORKED', 'EXAMPLE', 'EXACT', 'MEMORY'], // words that the table stresses
]);
const strange = (text: string): string[] =>
  (text.match(/\b[A-Z]{2,}(?:-[A-Z]+)?\d*\b/g) ?? []).filter((word) => !CAPITALS.has(word) && !/^[A-Z]{1,2}\d+$/.test(word));

describe('where check values come from', () => {
  it(`all ${rows.length} rows have a status from the list of five`, () => {
    expect(Object.keys(statusWords)).toEqual(['published', 'computed', 'from memory', TRADE, 'second-hand']);
    expect(wrongOf((r) => !Object.hasOwn(statusWords, r.status))).toEqual([]);
  });

  it('published: author, title and year, or standard, clause and title of what was read, all of them in the source; nobody else has such a reference', () => {
    const named = (r: Row): boolean => {
      const work = r.reference ?? {};
      const keys = Object.hasOwn(work, 'standard') ? ['standard', 'clause', 'title'] : ['author', 'year', 'title'];
      return keys.every((key) => String(work[key] ?? '').length > 1 && r.source.includes(String(work[key])));
    };
    expect(wrongOf((r) => r.status === 'published' && !named(r))).toEqual([]);
    expect(wrongOf((r) => r.status !== 'published' && r.reference !== undefined)).toEqual([]);
    const published = rows.filter((r) => r.status === 'published').length;
    console.log(
      Object.keys(statusWords)
        .map((word) => `${word}: ${rows.filter((r) => r.status === word).length}`)
        .join('; '),
    );
    expect(published).toBe(13);
  });

  it("the trade's own figures say so and no more; what rests on memory says so; what others quote says who did not read it", () => {
    expect(wrongOf((r) => r.source.startsWith(TRADE) !== (r.status === TRADE))).toEqual([]);
    expect(wrongOf((r) => r.status === 'second-hand' && !/quoted|not read|not noted/.test(r.source))).toEqual([]);
    expect(wrongOf((r) => r.status === 'computed' && !/[a-z]{4}/.test(r.source))).toEqual([]);
    expect(wrongOf((r) => /published/.test(r.source) && r.status !== 'published')).toEqual([]);
  });

  it('no web address and no trade name of an instrument or material, here or in the materials', () => {
    expect(wrongOf((r) => ADDRESS.test(texts(r)))).toEqual([]);
    expect(rows.flatMap((r) => strange(`${r.id} ${texts(r)}`).map((word) => `${r.id}: ${word}`))).toEqual([]);
    const words = [...presets().map((p) => `${p.name} ${p.status} ${JSON.stringify(presetNotes(p.id))}`), ...EVIDENCE_ROWS.map((e) => JSON.stringify(e))];
    expect(words.filter((text) => ADDRESS.test(text))).toEqual([]);
    expect(words.flatMap((text) => strange(text))).toEqual([]);
  });
});
