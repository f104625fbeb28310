import type { Core } from './core.ts';
import { guarded } from './faults.ts';
import { EXIT, Failure, type Io, readText, writeTogether } from './io.ts';

/**
 * `swatch reading FILE [--out FILE]`: readings to a material, on stdout or in a file. Exit 0, or 2 with every fault and nothing written. A file
 * that is there already is written over only when it holds such a material; anything else under that name is somebody's work.
 */
export async function swatchReading(io: Io, core: Core, file: string | undefined, out: string | undefined, json: boolean): Promise<number> {
  if (file === undefined) throw new Failure('which file? `swatch reading FILE` reads a file of readings (mass, overhangs)\n', EXIT.input);
  if (out?.trim() === '') throw new Failure('--out "": expected the name of a file\n', EXIT.input);
  const text = await readText(io, file);
  const made = guarded(core, file, () => core.swatchMaterial(core.parseReadings(text)));
  const form = core.ownMaterialForm(made);
  const written = `${JSON.stringify(form, null, 2)}\n`;
  if (out !== undefined) await writeMaterial(io, out, written);
  if (json) io.out(written);
  else io.out(`${core.swatchText(made).join('\n')}\n${out === undefined ? `\n${written}` : `wrote ${out}; ${howToUse(form, out)}\n`}`);
  return EXIT.ok;
}

/**
 * `swatch photo FILE [--out FILE]`: strips marked in pictures, told one by one; with a weighed piece in the file also its material. Exit 0, or 2 with
 * every fault and nothing written. `--json` prints the readings in SI and the material's entries.
 */
export async function swatchPhoto(io: Io, core: Core, file: string | undefined, out: string | undefined, json: boolean): Promise<number> {
  if (file === undefined) throw new Failure('which file? `swatch photo FILE` reads the places marked in pictures of a strip\n', EXIT.input);
  if (out?.trim() === '') throw new Failure('--out "": expected the name of a file\n', EXIT.input);
  const text = await readText(io, file);
  const photos = guarded(core, file, () => core.parsePhotos(text));
  const made = photos.readings && core.swatchMaterial(photos.readings);
  if (out !== undefined && made === null)
    throw new Failure(
      `--out: a bending length becomes a material with its mass: add "name", "like" and a weighed "piece" to ${file}, and pictures of warp and weft\n`,
      EXIT.input,
    );
  const form = made && core.ownMaterialForm(made);
  const written = `${JSON.stringify(form, null, 2)}\n`;
  if (out !== undefined) await writeMaterial(io, out, written);
  if (json) io.out(core.stableJson({ photos: photos.directions, ...(form ? { material: form } : {}) }));
  else {
    const more = form ? ['', ...core.swatchText(made), out === undefined ? `\n${written}` : `wrote ${out}; ${howToUse(form, out)}`] : [];
    io.out(`${[...core.photoText(photos), ...more].join('\n').trimEnd()}\n`);
  }
  return EXIT.ok;
}

async function writeMaterial(io: Io, out: string, written: string): Promise<void> {
  await refuseOthersWork(io, out);
  const folder = /[\\/]/.test(out) ? out.replace(/[\\/][^\\/]*$/, '') || '/' : '.';
  await writeTogether(io, [folder], [{ path: out, text: written }]);
}

const howToUse = (form: ReturnType<Core['ownMaterialForm']>, out: string): string => {
  const [id] = Object.keys(form.materials);
  const [stack] = Object.keys(form.stacks ?? {});
  return `test it with \`swatch cantilever ${out}\`, or copy its entries into a bag file and name "${id}" in a layer${stack === undefined ? '' : ` or "${stack}" as a panel's stack`}`;
};

async function refuseOthersWork(io: Io, out: string): Promise<void> {
  let there: string;
  try {
    there = await io.readFile(out);
  } catch {
    return;
  }
  let value: unknown = null;
  try {
    value = JSON.parse(there);
  } catch {
    // Told below: not a material.
  }
  const keys = value !== null && typeof value === 'object' ? Object.keys(value) : [];
  if (keys.includes('materials') && keys.every((k) => k === 'materials' || k === 'stacks')) return;
  throw new Failure(`${out} is there already and is not a material that this command wrote: nothing was written; give --out another name\n`, EXIT.input);
}
