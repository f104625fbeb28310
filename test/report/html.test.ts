import { loadImage } from '@napi-rs/canvas';
import { describe, expect, test } from 'vitest';
import { bagTextIn, htmlReport, resultsTextIn } from '../../src/report/index.ts';
import { resultOf, runOf, sunk, tote } from './results.ts';

const three = (['low', 'mid', 'high'] as const).map((band, i) => runOf(band, sunk(0.6 + 0.1 * i, 0.02), 0.143));
const slumped = resultOf(three);
const standing = resultOf([runOf('mid', tote.drafted)], 'structured', 'leather', 0.38);
const text = (html: string): string =>
  html
    .replace(/<style>.*?<\/style>|<pre hidden.*?<\/pre>|<svg.*?<\/svg>/gs, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&#34;/g, '"')
    .replace(/[\s\u00a0]+/g, ' ');

describe('a report for a client', () => {
  const html = htmlReport([slumped, standing], '{"bag": 1}', {
    question: 'Which of the two stands?',
    parts: [{ title: 'Cutting list: leather', blocks: [{ kind: 'list', boxes: true, items: ['<cut> one'] }] }],
    results: '{"format": "x </pre> & <b>"}',
  });

  test('has its parts in this order: question, answer, figures, why, what would change it, measured or estimate, cutting list, limits, cautions, versions', () => {
    const said = text(html);
    const places = [
      'Which of the two stands?',
      'The answer',
      'Figures',
      'Why: ',
      'What would change it',
      'What was measured, what is an estimate',
      'Cutting list: leather',
      'Where the words end',
      'Cautions',
      'Made with',
    ].map((words) => {
      const at = said.indexOf(words);
      expect(at, `"${words}" is in the report`).toBeGreaterThanOrEqual(0);
      return at;
    });
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(said).toContain('Instead of ');
    expect(said).toContain('slumps becomes holds');
    expect(said).toContain('The lightest that is "structured" as wanted: leather, 380 g');
    expect(html).toContain('<li>&#60;cut&#62; one</li>');
  });

  test('keeps the bag file and the results byte for byte; without them nothing of either', () => {
    expect(bagTextIn(html)).toBe('{"bag": 1}');
    expect(resultsTextIn(html)).toBe('{"format": "x </pre> & <b>"}');
    expect(resultsTextIn(htmlReport([standing]))).toBeNull();
    expect(resultsTextIn('{"format": "slumpline results"}')).toBeNull();
  });

  test('its bags are images that a browser reads, as sharp as 2 points to a px of the picture', async () => {
    const images = [...html.matchAll(/<image x="[\d.]+" y="[\d.]+" width="([\d.]+)" height="([\d.]+)" href="data:image\/png;base64,([^"]+)"/g)];
    expect(images).toHaveLength(2);
    for (const [, width, , base64] of images) {
      const image = await loadImage(Buffer.from(base64!, 'base64'));
      expect(image.width).toBe(2 * Number(width));
    }
  });

  test('needs no script, fetches nothing, and is the same text twice', () => {
    expect(html).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)/);
    expect(htmlReport([slumped, standing])).toBe(htmlReport([slumped, standing]));
  });

  test('a bag named to break out of the style or the page stays a name', () => {
    const name = '"}body{display:none}</style><script>alert(1)</script>';
    const odd = htmlReport([{ ...standing, bag: name }]);
    expect(odd).not.toContain('<script>');
    expect(odd.match(/<\/style>/g)).toHaveLength(2);
    expect(odd).not.toContain('content:""}');
  });
});
