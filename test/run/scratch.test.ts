import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { prepareScene } from '../../src/run/scene.ts';
import { runBand } from '../../src/run/band-run.ts';
import { toEnd, createSystem, closing, inHands } from '../../src/solver/index.ts';
import { faceAt, leadsOf, spotAt } from '../../src/assembly/index.ts';
import { cableLengths } from '../../src/solver/elastic/cables.ts';
import { countCrossings } from '../../src/mesh/index.ts';
const CASES: Record<string, [string, any, any]> = {
  satchel: ['satchel', { lock: { kind: 'magnet', from: { panel: 'flap', at: ['W/2', 'D + fall - 25 mm'] }, to: { panel: 'front', at: ['W/2', 'H - fall + 25 mm'] } } }, ['lock']],
  clutch: ['envelope-clutch', { lock: { kind: 'snap', from: { panel: 'flap', at: ['W/2', 'D + fall - 20 mm'] }, to: { panel: 'front', at: ['W/2', 'H - fall + 20 mm'] } } }, ['lock']],
  duffel: ['barrel-duffel', { zip: { kind: 'coil zip', join: ['body.bottom[shut..L - shut]', 'body.top[shut..L - shut]'] } }, ['zip']],
  backpack: ['backpack', { zip: { kind: 'coil zip', join: ['zip front.top', 'zip back.top'] } }, ['zip']],
  pouch: ['drawstring-pouch', { cord: { kind: 'drawstring', along: ['front.top', 'back.top'], below: 'casing/2', 'drawn to': '120 mm' } }, ['cord']],
};
for (const name of (process.env.CASE ?? 'satchel').split(','))
it(name, () => {
  const [t, closures, closed] = CASES[name]!;
  const doc = JSON.parse(newBag(t));
  doc.closures = closures;
  doc.stances = { shut: { friction: 0.4, closed, ...(process.env.LOAD ? {load: process.env.LOAD} : {}) } };
  const bag = parseBag(doc);
  const t0 = process.cpuUsage().user;
  const scene = prepareScene(bag, { edgeLength: Number(process.env.EDGE ?? 0.02), ...(process.env.OPTION ? { option: bag.options[Number(process.env.OPTION)]!.name } : {}) });
  console.log(name, scene.mesh.vertexCount, scene.tied.map((t) => [t.laid.closure.name, t.count, t.laid.loop]));
  const sys = createSystem(inHands(scene.model, scene.start), { selfContact: true });
  const open = cableLengths(sys.el.cables!, scene.start);
  console.log('open', Math.max(...open), 'rest', scene.model.cables!.rest[0]);
  let frames = 0, last = 0;
  const shut = toEnd(closing(sys, scene.start, leadsOf(bag, scene.mesh, scene.tied, scene.start), (f, x) => { frames++; return true; }));
  const len = cableLengths(sys.el.cables!, shut.x);
  console.log('closed: steps', frames, 'left', Math.max(...shut.left), 'len', Math.max(...len), 'T', Math.max(...sys.el.cables!.tension), 'crossings', countCrossings(shut.x, scene.mesh.triVerts), 'cpu', (process.cpuUsage().user - t0) / 1e6);
  const side = (x: Float64Array) => { const l = scene.tied[0]!.laid; if (l.channel.length || l.pairs.length !== 1) return; const [a, b] = l.pairs[0]!.spots; const n = faceAt(scene.mesh, scene.mesh.panelNames.indexOf('front'), b, x); const p = spotAt(a, x), q = spotAt(b, x); console.log('side mm', n.map((v, k) => v * (p[k]! - q[k]!)).reduce((a, b) => a + b) * 1000, q, n); };
  side(shut.x);
  if (process.env.CLOSE_ONLY) return;
  const run = toEnd(runBand(scene, { skipNudge: true, everyNudge: false, told: () => undefined, now: () => 0, setup: 0 } as any));
  side(run.positions);
  console.log(run.status, run.residual, run.iterations, run.stillFalling, run.stable, run.contact, run.measures, 'cpu', (process.cpuUsage().user - t0) / 1e6);
}, 600000);
