/** Every check value that does not rest on memory alone is gated by a test named here, or stands in a short list with the reason why not. */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { gated, rows } from './rows.ts';

/** [rows, test file, what the file calls them by]. A row may be gated more than once; the first is enough. */
const GATED: readonly (readonly [rows: RegExp, file: string, needle: string])[] = [
  [/^(peirce_G|peirce_angle|gate2020_c|gate2018_ratio|fixed_angle_rule|c_over_L_415)$/, 'standards/cantilever-formulas.test.ts', ''],
  [/^cant_angle_/, 'standards/solver-table.test.ts', '/^cant_angle_/'],
  [/^unif_/, 'standards/solver-table.test.ts', '/^unif_/'],
  [/^tip_/, 'standards/solver-table.test.ts', '/^tip_/'],
  [/^greenhill$/, 'standards/solver-table.test.ts', '/^greenhill$/'],
  [/^stand_/, 'standards/solver-table.test.ts', '/^stand_/'],
  [/^incl_/, 'standards/solver-table.test.ts', '/^incl_/'],
  [/^(heart|ring|pear)_(l0|K\d+)$/, 'standards/solver-table.test.ts', '/^(heart|ring|pear)_(l0|K\\d+)$/'],
  [/^sringf?_/, 'standards/solver-table.test.ts', '/^sringf?_/'],
  [/^moment_/, 'standards/held-ends.test.ts', '/^moment_/'],
  [/^pb_/, 'standards/held-ends.test.ts', '/^pb_/'],
  [/^cat_/, 'standards/held-ends.test.ts', '/^cat_/'],
  [/^ss_[\d.]+$/, 'standards/plates.test.ts', '/^ss_[\\d.]+$/'],
  [/^cl_[\d.]+$/, 'standards/plates.test.ts', '/^cl_[\\d.]+$/'],
  [/^(ss_point|cl_point|circ_clamped|circ_ss_nu03|circ_ss_nu00|circ_clamped_point|circ_ss_point_nu03|hencky|strip_membrane)$/, 'standards/plates.test.ts', ''],
  [/^(pbk_ss|pbk_free|euler_pinned|euler_fixed_fixed|euler_fixed_pinned|euler_fixed_free|freq)$/, 'standards/buckling.test.ts', ''],
  [/^selfb_(pinned_pinned|fixed_fixed|bottom_fixed_top_pinned)$/, 'standards/buckling.test.ts', ''],
  [/^(plaut|dc_def|gate2022|annulus)$/, 'standards/elastica-formulas.test.ts', ''],
  [/^(ex_cf|ex_foam|n2|clt|gurarda|kim)$/, 'standards/laminate.test.ts', ''],
  [
    /^(u_pure_bending_B|u_2hb|u_mgcm|u_uJm|u_shear_tester_G|u_bias_extension_G|oz_yd2|oz|oz_density|sqft|denim_pure_bending|iso2589|ream)$/,
    'standards/units.test.ts',
    '',
  ],
  [/^duck_(\d|rule)/, 'standards/units.test.ts', '/^duck_\\d/'],
  [/^iso17235$/, 'standards/units.test.ts', '5.197'],
  [/^strap_[\d.]+$/, 'standards/carrying-formulas.test.ts', '/^strap_[\\d.]+$/'],
  [/^capstan_/, 'standards/straps.test.ts', 'capstan_'],
  [
    /^(seam301|seam401|seam_tab|seam_tab2|th301|th101|th401|th301r|tilt|rankine|drop|fr_leather-wood|fr_leather-wood, static)$/,
    'standards/carrying-formulas.test.ts',
    '',
  ],
  [/^(gsm_poplin|gsm_denim|gsm_canvas|gsm_lawn)$/, 'material/presets.test.ts', ''],
  [/^disk_wrinkle$/, 'swatch/bench.test.ts', 'disk_wrinkle'],
];

/** What no test gates, and why. Keep it short. */
const OPEN: readonly (readonly [rows: RegExp, reason: string])[] = [
  [
    /^(fr_leather-metal.*|fr_leather-iron|fr_wood-felt.*|fr_cotton-cotton.*)$/,
    "friction of pairs that no stance has yet; the sources disagree by a factor of two, so the figure is the user's to set",
  ],
  [/^d1683$/, 'the table describes how a seam is tested; its formulas are from memory'],
  [/^leather_eff$/, 'a range of strengths of sewn leather: the product computes no seam efficiency'],
  [/^sheep_DC$/, 'an absolute drape coefficient: shown beside the bench, not gated, since cloth keeps the folds that its friction holds'],
  [/^lamin_heart$/, 'a finding on six fabrics without figures'],
  [
    /^(tri_E|tri_B|grid_aniso|grid_k)$/,
    'lattices of springs; the cloth here is triangles and mid-edge normals, whose own identity is the imposed-curvature energy',
  ],
  [
    /^(gsm_voile|gsm_bedsheet|gsm_uph|penava_.*|thick_bands|woven_base|fleece|board|iso2420)$/,
    'what cloths, leathers and boards weigh and how thick they are: material bands, not solver, laminate, units, seams or straps',
  ],
];

const wanted = [...new Set(rows.filter(gated).map((r) => r.id))];
const text = (file: string): string => readFileSync(new URL(`../${file}`, import.meta.url), 'utf8');

describe('check values', () => {
  it('every row that does not rest on memory is gated by a named test or listed as open, none is both', () => {
    const count = (list: readonly (readonly [RegExp, ...string[]])[], id: string) => list.filter(([pattern]) => pattern.test(id)).length;
    const wrong = wanted.filter((id) => count(GATED, id) + count(OPEN, id) !== 1);
    expect(wrong.map((id) => `${id}: gated by ${count(GATED, id)} entries, open in ${count(OPEN, id)}`)).toEqual([]);
  });

  it('every entry stands for at least one row, and its test file names it', () => {
    for (const [pattern] of [...GATED, ...OPEN]) expect(wanted.filter((id) => pattern.test(id)).length, `${pattern} matches no row`).toBeGreaterThan(0);
    for (const [pattern, file, needle] of GATED) {
      expect(existsSync(new URL(`../${file}`, import.meta.url)), file).toBe(true);
      const body = text(file);
      const named = needle === '' ? wanted.filter((id) => pattern.test(id)) : [needle];
      for (const name of named) expect(body.includes(name), `${file} does not name ${name}`).toBe(true);
    }
  });

  it('shows what is open', () => {
    const open = wanted.filter((id) => OPEN.some(([pattern]) => pattern.test(id)));
    for (const [pattern, reason] of OPEN) console.log(`${open.filter((id) => pattern.test(id)).join(', ')}: ${reason}`);
    console.log(
      `${wanted.length - open.length} of ${wanted.length} check values that do not rest on memory are gated; ${rows.length - rows.filter(gated).length} from memory, or with an open convention, are never gated`,
    );
    expect(open.length).toBeLessThan(wanted.length / 4);
  });
});
