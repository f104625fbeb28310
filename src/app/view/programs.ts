import { DataTexture, DoubleSide, GLSL3, LinearFilter, RawShaderMaterial, RGBAFormat, UnsignedByteType, Vector2, Vector3, Vector4 } from 'three';
import clothFrag from '../../../shaders/cloth.frag?raw';
import clothVert from '../../../shaders/cloth.vert?raw';
import copyFrag from '../../../shaders/copy.frag?raw';
import edgeFrag from '../../../shaders/edge.frag?raw';
import edgeVert from '../../../shaders/edge.vert?raw';
import light from '../../../shaders/light.glsl?raw';
import lineFrag from '../../../shaders/line.frag?raw';
import lineVert from '../../../shaders/line.vert?raw';
import matFrag from '../../../shaders/mat.frag?raw';
import matVert from '../../../shaders/mat.vert?raw';
import noise from '../../../shaders/noise.glsl?raw';
import scale from '../../../shaders/scale.glsl?raw';
import shadowFrag from '../../../shaders/shadow.frag?raw';
import shadowVert from '../../../shaders/shadow.vert?raw';
import { MAP_STEPS, mapColours } from '../core.ts';
import { CLOTH_GRAIN, type ClothLook } from './palette.ts';

/** Uniforms that every panel of every bay shares: one object each, so that a turn of the camera is one write. */
export interface SharedUniforms {
  readonly uTurn: { value: import('three').Matrix3 };
  readonly uViewer: { value: Vector3 };
  readonly uPixel: { value: number };
  /** Metres per css pixel. */ readonly uPoint: { value: number };
  /** Size of a bay, css px. */ readonly uSize: { value: Vector2 };
  readonly uMap: { value: number };
  readonly uTight: { value: number };
  readonly uScale: { value: DataTexture };
}

/** A thin line: display-encoded colour, width in css px, dash and gap together in m (0: whole), shift toward the viewer in clip depth. */
export interface LineLook {
  readonly colour: readonly [number, number, number, number];
  readonly width: number;
  readonly dash: number;
  readonly nearer: number;
}

export const SEAM_LINE: LineLook = { colour: [0.16, 0.12, 0.07, 0.45], width: 1.1, dash: 0, nearer: 2e-4 };
export const DRAFTED_LINE: LineLook = { colour: [0.949, 0.761, 0.196, 1], width: 1.25, dash: 0.0085, nearer: 0 };

export const DRAFTED_ON_PAPER: LineLook = { ...DRAFTED_LINE, colour: [0.36, 0.41, 0.4, 1] };

/** The step of a folded edge on the face of its cloth. */
export const FOLD_LINE: LineLook = { colour: [0.1, 0.07, 0.03, 0.24], width: 1.2, dash: 0, nearer: 1e-4 };

export const POINTED_LINE: LineLook = { colour: [1, 1, 1, 1], width: 3, dash: 0, nearer: 4e-4 };

const PALE_THREAD = [0.95, 0.91, 0.8] as const;
const DARK_THREAD = [0.3, 0.23, 0.14] as const;

/** Linear luminance of a cloth from which both threads stand out alike. */
const EVEN = 0.24;

/** Thread that shows on a cloth (linear colour), whatever the cloth: pale on dark, dark on pale. Stitch length in m. */
export function threadLine(face: readonly [number, number, number], stitch: number): LineLook {
  const light = 0.2126 * face[0] + 0.7152 * face[1] + 0.0722 * face[2];
  return { colour: [...(light < EVEN ? PALE_THREAD : DARK_THREAD), 0.95], width: 1.2, dash: stitch, nearer: 2e-4 };
}

export const PRECISION = 'precision highp float;\nprecision highp int;\n';
const BASE = { glslVersion: GLSL3 } as const;

export function mapTexture(): DataTexture {
  const data = new Uint8Array(4 * MAP_STEPS);
  mapColours().forEach((c, i) => {
    data.set([Math.round(255 * c[0]), Math.round(255 * c[1]), Math.round(255 * c[2]), 255], 4 * i);
  });
  const texture = new DataTexture(data, MAP_STEPS, 1, RGBAFormat, UnsignedByteType);
  texture.minFilter = LinearFilter;
  texture.magFilter = LinearFilter;
  texture.needsUpdate = true;
  return texture;
}

export function clothProgram(look: ClothLook, shared: SharedUniforms): RawShaderMaterial {
  return new RawShaderMaterial({
    ...BASE,
    vertexShader: clothVert,
    fragmentShader: PRECISION + noise + light + scale + clothFrag,
    side: DoubleSide,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
    uniforms: {
      ...shared,
      uCloth: { value: look.cloth },
      uFace: { value: new Vector3(...look.face) },
      uLining: { value: new Vector3(...look.lining) },
      uPitch: { value: look.pitch },
      uGlow: { value: 0 },
    },
  });
}

export function edgeProgram(look: ClothLook, thickness: number, shared: SharedUniforms): RawShaderMaterial {
  return new RawShaderMaterial({
    ...BASE,
    vertexShader: edgeVert,
    fragmentShader: PRECISION + light + edgeFrag,
    side: DoubleSide,
    uniforms: {
      uTurn: shared.uTurn,
      uPixel: shared.uPixel,
      uThickness: { value: thickness },
      uFace: { value: new Vector3(...look.face) },
      uPainted: { value: look.cloth === CLOTH_GRAIN ? 1 : 0 },
    },
  });
}

export function lineProgram(look: LineLook, shared: SharedUniforms): RawShaderMaterial {
  return new RawShaderMaterial({
    ...BASE,
    vertexShader: lineVert,
    fragmentShader: lineFrag,
    side: DoubleSide,
    transparent: look.colour[3] < 1,
    depthWrite: false,
    uniforms: {
      uSize: shared.uSize,
      uColour: { value: new Vector4(...look.colour) },
      uWidth: { value: look.width },
      uDash: { value: look.dash },
      uPixel: shared.uPixel,
      uNearer: { value: look.nearer },
    },
  });
}

export function shadowProgram(): RawShaderMaterial {
  return new RawShaderMaterial({ ...BASE, vertexShader: shadowVert, fragmentShader: shadowFrag, side: DoubleSide, transparent: true, depthWrite: false });
}

export function matProgram(): RawShaderMaterial {
  return new RawShaderMaterial({
    ...BASE,
    vertexShader: matVert,
    fragmentShader: matFrag,
    depthTest: false,
    depthWrite: false,
    uniforms: {
      uSize: { value: new Vector2() },
      uDensity: { value: 1 },
      uScale: { value: 600 },
      uFloor: { value: 0 },
      uOrigin: { value: 0 },
      uSlide: { value: new Vector2() },
      uBack: { value: 0.25 },
      uRule: { value: new Vector2(0.0254, 0.1016) },
    },
  });
}

export function copyProgram(): RawShaderMaterial {
  return new RawShaderMaterial({
    ...BASE,
    vertexShader: matVert,
    fragmentShader: copyFrag,
    depthTest: false,
    depthWrite: false,
    uniforms: { uPicture: { value: null }, uTexel: { value: new Vector2() } },
  });
}
