import { expect, test } from 'vitest';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { prepareScene } from '../../src/run/scene.ts';
import { faultsOf } from './made.ts';

const satchel = (closures: object, closed: unknown = []): Record<string, unknown> => ({
  ...JSON.parse(newBag('satchel')),
  closures,
  stances: { s: { closed } },
});
const magnet = {
  kind: 'magnet',
  from: { panel: 'flap', at: ['W/2', 'D + fall - 25 mm'] },
  to: { panel: 'front', at: ['W/2', 'H - fall + 25 mm'] },
};

test('a magnet of the file: both ends in metres, its usual gap and weight, its stated pull-off', () => {
  const bag = parseBag(satchel({ m: { ...magnet, 'pull-off': '8 N' } }, ['m']));
  expect(bag.closures).toEqual([
    {
      name: 'm',
      kind: 'magnet',
      ends: [
        { panel: 'flap', at: [expect.closeTo(0.1651, 9), expect.closeTo(0.1016 + 0.7 * 0.254 - 0.025, 9)] },
        { panel: 'front', at: [expect.closeTo(0.1651, 9), expect.closeTo(0.3 * 0.254 + 0.025, 9)] },
      ],
      size: 0.018,
      gap: 0.004,
      mass: 0.012,
      pullOff: 8,
    },
  ]);
  expect(bag.stances[0]).toMatchObject({ closed: ['m'] });
});

test('sixteen faults of closures and stances in one run, each with its path', () => {
  const faults = faultsOf(
    satchel(
      {
        zip: { kind: 'coil zip', join: ['front.top', 'front.left'] },
        'zip again': { kind: 'coil zip', join: ['front.top', 'gusset.top'] },
        'zip short': { kind: 'metal zip', join: ['flap.left', 'gusset.bottom'], slider: 2 },
        half: { kind: 'snap', from: magnet.from },
        mixed: { ...magnet, along: 'front.top' },
        off: { ...magnet, to: { panel: 'front', at: ['2*W', 0] } },
        nowhere: { ...magnet, to: { panel: 'frnt', at: [0, 0] } },
        wide: { ...magnet, gap: '200 mm' },
        long: { kind: 'drawstring', along: 'front.top', 'drawn to': '2*W' },
        crowded: { kind: 'drawstring', along: 'back.top', 'drawn to': '5 mm' },
        edgeless: { kind: 'cinch strap', along: 'front.rim', 'drawn to': '5 mm' },
        twice: { kind: 'coil zip', join: ['flap.top', 'flap.top'] },
        velcro: { kind: 'glue' },
      },
      ['zip', 'zip', 'lace'],
    ),
  );
  expect(faults.map((f) => f.path).sort()).toEqual(
    [
      'closures.crowded.drawn to',
      'closures.edgeless.along',
      'closures.half.to',
      'closures.long.drawn to',
      'closures.mixed.along',
      'closures.nowhere.to.panel',
      'closures.off.to.at',
      'closures.twice.join',
      'closures.velcro.kind',
      'closures.wide.gap',
      'closures.zip again.join',
      'closures.zip short.slider',
      'closures.zip.join',
      'closures.zip.join[1]',
      'stances.s.closed[1]',
      'stances.s.closed[2]',
    ].sort(),
  );
});

test('a word that is no list of closures is refused, "left out" is taken', () => {
  expect(faultsOf(satchel({ m: magnet }, 'shut'))[0]).toMatchObject({ path: 'stances.s.closed' });
  expect(parseBag(satchel({ m: magnet }, 'left out')).stances[0]).toMatchObject({ closed: 'left out' });
});

test('a flap whose magnet ends 60 mm above the other part is a fault before anything is settled; one that reaches is none', () => {
  const short = parseBag(satchel({ m: { ...magnet, from: { panel: 'flap', at: ['W/2', 'D + fall - 85 mm'] } } }, ['m']));
  const faults = () => prepareScene(short, { edgeLength: 0.03 });
  expect(faults).toThrow(/closures\.m: got a magnet whose flap stops \d+ mm short/);
  expect(() => prepareScene(parseBag(satchel({ m: magnet }, ['m'])), { edgeLength: 0.03 })).not.toThrow();
});
