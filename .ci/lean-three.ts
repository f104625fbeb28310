/** What the page leaves out of the renderer's package: no bundler can see that nothing here asks for it. Used by vite.config.ts. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';
import { leanMethods } from './lean-methods.ts';

/**
 * Leaves out of the page the renderer's own shaders (surfaces, lights, fog, skies): everything is drawn by the programs of shaders/, which take nothing
 * from them, and a bundler cannot see that. A program that did ask for one would not compile, and the page's tests fail on that.
 */
export const ownShadersOnly = (): Plugin => ({
  name: 'own-shaders-only',
  transform: {
    filter: { id: /three\/build\/three\.module\.js$/ },
    handler(code) {
      return {
        code: code.replace(
          /^((?:var|const) (?:\w+_(?:pars_)?(?:fragment|vertex)|common|cube_uv_reflection_fragment|(?:vertex|fragment)(?:\$\w+)?) = )"(?:[^"\\]|\\.)*";$/gm,
          '$1"";',
        ),
        map: null,
      };
    },
  },
});

/** Parts of the renderer that the page never calls, each with the little that the renderer itself asks of it. */
const UNUSED_IN_RENDERER: Readonly<Record<string, string>> = {
  WebXRManager: `class WebXRManager extends EventDispatcher {
    enabled = false; isPresenting = false; cameraAutoUpdate = false;
    getEnvironmentBlendMode() {} hasDepthSensing() { return false; } setAnimationLoop() {} dispose() {}
  }`,
  WebGLShadowMap: 'function WebGLShadowMap() { this.enabled = false; this.autoUpdate = false; this.needsUpdate = false; this.render = () => {}; }',
  PMREMGenerator: 'class PMREMGenerator { dispose() {} }',
  WebGLOutput: 'function WebGLOutput() {}',
  WebGLEnvironments: 'function WebGLEnvironments() { return { get: (map) => map, dispose() {} }; }',
  WebGLMorphtargets: 'function WebGLMorphtargets() { return { update() {} }; }',
  WebGLUniformsGroups: 'function WebGLUniformsGroups() { return { bind() {}, update() {}, dispose() {} }; }',
  WebGLLights: `function WebGLLights() {
    return { setup() {}, setupView() {}, state: { version: 0 } };
  }`,
  WebGLClipping: `function WebGLClipping() {
    return { uniform: { value: null, needsUpdate: false }, numPlanes: 0, numIntersection: 0, init: () => false, beginShadows() {}, endShadows() {}, setGlobalState() {}, setState() {} };
  }`,
  WebGLCubeRenderTarget: 'class WebGLCubeRenderTarget extends WebGLRenderTarget {}',
  // Of its many kinds of material the page has one, the program of its own.
  WebGLMaterials: `function WebGLMaterials() {
    return { refreshFogUniforms() {}, refreshMaterialUniforms(uniforms, material) { material.uniformsNeedUpdate = false; } };
  }`,
};

/**
 * Leaves out of the page what the renderer carries for headsets, shadow maps, surroundings, effects and its own materials, 20 kB gzipped: no bundler can
 * see that nothing here turns them on. A version of the renderer in which one of them is not found stops the build.
 */
export const leanRenderer = (): Plugin => ({
  name: 'lean-renderer',
  transform: {
    filter: { id: /three\/build\/three\.module\.js$/ },
    handler(code) {
      return { code: lighter(code, (fault) => this.error(fault)), map: null };
    },
  },
});

/** The renderer's module without what the page never turns on; `refuse` is told what is not found in it. */
function lighter(code: string, refuse: (fault: string) => never): string {
  let lean = code;
  for (const [name, stub] of Object.entries(UNUSED_IN_RENDERER)) {
    const found = new RegExp(`^(?:class|function) ${name}\\b[\\s\\S]*?^}$`, 'm');
    if (!found.test(lean)) refuse(`${name} is not in this version of three: look at what the renderer calls now (UNUSED_IN_RENDERER)`);
    lean = lean.replace(found, () => stub);
  }
  for (const { what, found, keep } of LEAN_PROGRAMS) {
    if (!found.test(lean)) refuse(`${what}: not in this version of three (LEAN_PROGRAMS)`);
    lean = lean.replace(found, keep);
  }
  return lean;
}

/**
 * What the renderer asks of a material before it is drawn, and how it writes the head of a program: of programs of one's own it needs a tenth. Each is found by
 * where it begins and ends, and `keep` takes its place.
 */
const LEAN_PROGRAMS: readonly { readonly what: string; readonly found: RegExp; readonly keep: string }[] = [
  { what: 'which maps a material has', found: /^\t\tconst HAS_MAP = [\s\S]*?(?=^\t\tconst HAS_EXTENSIONS)/m, keep: '' },
  { what: 'levels of surroundings', found: /^\t\tconst envMapMipmaps = [^\n]*\n/m, keep: '' },
  { what: 'maps and their channels among the parameters', found: /^\t\t\tmap: HAS_MAP,[\s\S]*?(?=^\t\t\tvertexTangents: )/m, keep: '' },
  { what: 'tangents', found: /^\t\t\tvertexTangents: [^\n]*\n/m, keep: '\t\t\tvertexTangents: false,\n' },
  { what: 'fog and shading among the parameters', found: /^\t\t\tpointsUvs: [\s\S]*?(?=^\t\t\tskinning: )/m, keep: '' },
  { what: 'lights among the parameters', found: /^\t\t\tnumSunLights: [\s\S]*?(?=^\t\t\tnumClippingPlanes: )/m, keep: '' },
  { what: 'shadows among the parameters', found: /^\t\t\tshadowMapEnabled: [\s\S]*?(?=^\t\t\ttoneMapping: )/m, keep: '' },
  { what: 'videos and depth among the parameters', found: /^\t\t\tdecodeVideoTexture: [\s\S]*?(?=^\t\t\tindex0AttributeName: )/m, keep: '' },
  { what: "keys of programs that are not of one's own", found: /^\tfunction getProgramCacheKeyParameters\( [\s\S]*?^\t}$[\s\S]*?^\t}$/m, keep: '' },
  { what: 'where those keys are asked for', found: /^\t\tif \( parameters\.isRawShaderMaterial === false \) {[\s\S]*?^\t\t}$/m, keep: '' },
  { what: 'the head of a program', found: /^\tif \( parameters\.isRawShaderMaterial \) {([\s\S]*?)^\t} else {[\s\S]*?^\t}$/m, keep: '$1' },
  {
    what: 'textures that are no plain data',
    found: /^\t\t\t} else if \( texture\.isCompressedTexture \) {[\s\S]*?^\t\t\t}$(?=\s+if \( textureNeedsGenerateMipmaps)/m,
    keep: '\t\t\t}',
  },
  { what: 'textures in layers', found: /^\tfunction setTexture2DArray\( [\s\S]*?^\t}$/m, keep: '\tfunction setTexture2DArray() {}' },
  { what: 'textures of a space', found: /^\tfunction setTexture3D\( [\s\S]*?^\t}$/m, keep: '\tfunction setTexture3D() {}' },
  { what: 'textures of six sides', found: /^\tfunction setTextureCube\( [\s\S]*?^\t}$/m, keep: '\tfunction setTextureCube() {}' },
  {
    what: 'textures changed in part',
    found:
      /(?<=const updateRanges = texture\.updateRanges;\s+)if \( updateRanges\.length === 0 \) {([\s\S]*?)^\t\t} else {[\s\S]*?^\t\t}$(?=\s+}\s+function uploadTexture)/m,
    keep: '$1',
  },
  { what: 'pictures of six sides', found: /^\tfunction uploadCubeTexture\( [\s\S]*?^\t}$/m, keep: '\tfunction uploadCubeTexture() {}' },
  { what: 'what shows through glass', found: /^\t\tfunction renderTransmissionPass\( [\s\S]*?^\t\t}$/m, keep: '\t\tfunction renderTransmissionPass() {}' },
  { what: 'the head of a program in GLSL 3', found: /^\tif \( parameters\.isRawShaderMaterial !== true \) {[\s\S]*?^\t}$/m, keep: '' },
  ...[
    'compile',
    'compileAsync',
    'readRenderTargetPixels',
    'readRenderTargetPixelsAsync',
    'copyFramebufferToTexture',
    'copyTextureToTexture',
    'initTexture',
  ].map((name) => ({ what: name, found: new RegExp(`^\\t\\tthis\\.${name} = (?:async )?function [\\s\\S]*?^\\t\\t};?$`, 'm'), keep: '' })),
];

/**
 * Leaves out of the page how the renderer's objects are written to files and read from them, its animations, which assign to their prototypes and so
 * are kept by every bundler, and every method of its classes that nothing calls (lean-methods.ts).
 */
export const leanObjects = (page: string): Plugin => ({
  name: 'lean-objects',
  transform: {
    filter: { id: /three\/build\/three\.core\.js$/ },
    handler(code, id) {
      const files = /^\t(?:static )?(?:toJSON|fromJSON)\([\s\S]*?^\t}$/gm,
        tracks = /^(?:\w*KeyframeTrack|PropertyBinding)\.(?:prototype\.\w+|Composite) = (?:[[{][\s\S]*?^[\]}]|[^;\n]*);$/gm;
      for (const part of [files, tracks])
        if (!part.test(code)) this.error(`${part} finds nothing in this version of three: look at how its objects are written to files and animated now`);
      const renderer = lighter(readFileSync(id.replace('three.core.js', 'three.module.js'), 'utf8'), (fault) => this.error(fault)).replace(
        /^(?:im|ex)port \{.*$/gm,
        '',
      );
      const own = readdirSync(page, { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.ts'))
        .map((name) => readFileSync(join(page, name), 'utf8'));
      const imports = own.flatMap((text) => text.match(/^import \{[^}]*\} from 'three';$/gm) ?? []).join('\n');
      return { code: leanMethods(code.replace(files, '').replace(tracks, ''), `${renderer}\n${imports}`, [renderer, ...own]), map: null };
    },
  },
});
