import { finRigidity } from '../../src/material/index.ts';
import { isotropic, swatchTest } from '../../src/swatch/index.ts';
import { rigidityOf, STRIP } from '../assembly/sewn-strip.ts';
import { family, G, head, settledOr } from './accuracy-table.ts';

const RIGHT = Math.PI / 2;

/**
 * Seams as they are sewn. A strip 2 x 20 mm wide and 160 mm long, D = 50 mN.m, C = 20 kN/m, with a fin, pressed allowances or turned edges, as a cantilever (small
 * slopes, rigidity from its droop): the fin against a composite beam, the rest against laminate theory, EI = D W + what lies loose on it (the form in which a seam
 * adds to a strip by its width: Journal of Home Economics of Japan 29(3), 1978, p. 192, (EI)X = EI0 + EI2 X; abstract read). Corner strips against the elastica with an end hinge.
 */
export function seams(): void {
  const { half, D, C } = STRIP,
    bare = D * 2 * half;
  console.log('\n### Seams and hems: rigidity of a strip along them, and the tip of a corner strip, at 5 / 2.5 mm\n');
  head('rows', 'read', 'bar', '5 / 2.5 mm', 'worst at');
  for (const height of [0.006, 0.01, 0.014])
    family(`fin of ${1000 * height} mm on a strip of 40 mm, against the beam`, 'what it adds', 5, '%', (mesh) => {
      const beam = finRigidity({ height, inPlane: C, bending: D, flange: 2 * half * C });
      return [[`${(height / mesh).toFixed(1)} edges high`, 100 * ((rigidityOf({ fin: height }, mesh) - bare) / beam - 1)]];
    });
  family('allowances of 6, 10 mm pressed open, to one side, creased, trimmed to 4 mm, skived to half over all', 'rigidity', 2, '%', (mesh) =>
    (
      [
        ['open, 10 mm', { pressed: 'open', allowance: '10 mm' }, 2 * 0.01],
        ['open, 6 mm', { pressed: 'open', allowance: '6 mm' }, 2 * 0.006],
        ['to one side, 10 mm', { pressed: 'to one side', allowance: '10 mm' }, 2 * 0.01],
        ['creased, trimmed to 4 mm', { pressed: 'creased', allowance: '10 mm', trimmed: '4 mm' }, 2 * 0.004],
        ['open, skived', { pressed: 'open', allowance: '10 mm', skived: { to: '0.5 mm', over: '10 mm' } }, (2 * 0.01) / 8],
      ] as const
    ).map(([name, seam, layer]) => [name, 100 * (rigidityOf({ seam }, mesh) / (bare + D * layer) - 1)] as const),
  );
  family('outer edges turned once 8 mm, twice 12 mm, bound 8 mm', 'rigidity', 2, '%', (mesh) =>
    (
      [
        ['once', { finish: 'turned once', width: '8 mm' }, 2 * 0.008],
        ['twice', { finish: 'turned twice', width: '12 mm' }, 2 * (0.012 + 0.01)],
        ['bound', { finish: 'bound', width: '8 mm' }, 2 * 2 * 0.008],
      ] as const
    ).map(([name, finish, layer]) => [name, 100 * (rigidityOf({ finish }, mesh) / (bare + D * layer) - 1)] as const),
  );
  family('corner strip of 60 mm, w L^3/B = 1, k L/B = 0.5 .. 20, rest 0, 45, 90 deg, seam up and down', 'drop of the tip', 1, '% of L', (mesh) =>
    [0.5, 2, 20].flatMap((kappa) =>
      [0, 45, 90].flatMap((rest) =>
        [false, true].map((seamDown) => {
          const length = 0.06,
            sheet = isotropic(0.34, 0.34 * G * length ** 3, 5e3),
            B = sheet.bending[0];
          const t = swatchTest('corner', { sheet, length, mesh, hinge: { stiffness: (kappa * B) / length, restAngle: (rest / 90) * RIGHT }, seamDown });
          return [`k L/B ${kappa}, rest ${rest} deg, seam ${seamDown ? 'down' : 'up'}`, settledOr(t, 100 * (t.reading - (t.theory ?? Number.NaN)))] as const;
        }),
      ),
    ),
  );
}
