// Unpacks the Chromium that comes as an npm package, for machines with no browser and no way to install one.
// The package's own unpacking is not used: it writes to fixed, unversioned names in the shared temporary folder,
// and its flags switch web security off.
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliDecompressSync } from 'node:zlib';

const pack = fileURLToPath(new URL('../node_modules/@sparticuz/chromium', import.meta.url));

/** Without any font Chromium's renderer dies on the first letter, so the bundled one is told where its own are. */
const fontsConf = (folder) => `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${folder}/fonts</dir>
  <dir>/usr/share/fonts</dir>
  <cachedir>${folder}/font-cache</cachedir>
  <alias><family>sans-serif</family><prefer><family>Open Sans</family></prefer></alias>
  <alias><family>system-ui</family><prefer><family>Open Sans</family></prefer></alias>
</fontconfig>
`;

function unpackTar(archive, folder) {
  mkdirSync(folder, { recursive: true });
  const tar = spawnSync('tar', ['-x', '-C', folder], { input: brotliDecompressSync(readFileSync(join(pack, 'bin', archive))) });
  if (tar.status !== 0) throw new Error(`cannot unpack ${archive}: ${tar.error?.message ?? tar.stderr}`);
}

function unpackInto(folder) {
  const browser = join(folder, 'chromium');
  writeFileSync(browser, brotliDecompressSync(readFileSync(join(pack, 'bin/chromium.br'))));
  chmodSync(browser, 0o755);
  // The software renderer is looked for beside the program.
  unpackTar('swiftshader.tar.br', folder);
  unpackTar('fonts.tar.br', join(folder, 'fonts'));
  unpackTar('al2023.tar.br', join(folder, 'libraries'));
}

function cacheFolder(name) {
  const caches = [process.env.XDG_CACHE_HOME, join(homedir(), '.cache')].filter(Boolean).map((cache) => join(cache, 'slumpline'));
  for (const folder of [...caches, join(tmpdir(), `slumpline-${process.getuid?.() ?? 0}`)]) {
    try {
      mkdirSync(folder, { recursive: true });
      return join(folder, name);
    } catch {
      // read-only home, as in some containers
    }
  }
  throw new Error('no folder to unpack a browser into');
}

/** One candidate, or none on machines it is not made for. */
export function unpackBundled() {
  if (process.platform !== 'linux' || process.arch !== 'x64' || !existsSync(join(pack, 'bin/chromium.br'))) return [];
  const { version } = JSON.parse(readFileSync(join(pack, 'package.json'), 'utf8'));
  const folder = cacheFolder(`chromium-${version}`);
  if (!existsSync(folder)) {
    // Under another name first: a run that is cut short, or two at once, must not leave half a browser behind.
    const part = `${folder}.${process.pid}`;
    rmSync(part, { recursive: true, force: true });
    mkdirSync(part);
    unpackInto(part);
    try {
      renameSync(part, folder);
    } catch (error) {
      rmSync(part, { recursive: true, force: true });
      if (!existsSync(folder)) throw error;
    }
  }
  const conf = join(folder, 'fonts.conf');
  writeFileSync(conf, fontsConf(folder));
  const libraries = ['libraries/lib', 'libraries'].map((name) => join(folder, name));
  // A bare machine has none of the security libraries Chromium links to; these were packed with it.
  const env = { FONTCONFIG_FILE: conf, LD_LIBRARY_PATH: [process.env.LD_LIBRARY_PATH, ...libraries].filter(Boolean).join(':') };
  return [{ path: join(folder, 'chromium'), args: ['--no-zygote', '--font-render-hinting=none'], env }];
}
