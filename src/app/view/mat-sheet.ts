import { Mesh, Scene } from 'three';
import { coveringTriangle } from './fine-draw.ts';
import { matProgram } from './programs.ts';
import type { Camera } from './projection.ts';

export interface MatLook {
  /** Of the canvas, css px. */ readonly width: number;
  readonly height: number;
  /** Drawn px per css px. */ readonly density: number;
  /** Css px per metre. */ readonly scale: number;
  /** The tape's zero, css px from the top. */ readonly floorPx: number;
  readonly camera: Camera;
  /** Of the first bay, css px. */ readonly left: number;
  /** From the bags' middles to the nearest point of any, m. */ readonly near: number;
  /** Rule spacing, m: fine and coarse. */ readonly rule: readonly [number, number];
}

/** The cutting mat behind the bags: one sheet over the whole canvas, ruled to the bags' scale. */
export class MatSheet {
  readonly scene = new Scene();
  private readonly program = matProgram();
  constructor() {
    const sheet = new Mesh(coveringTriangle(), this.program);
    sheet.frustumCulled = false;
    this.scene.add(sheet);
  }

  set(at: MatLook): void {
    const u = this.program.uniforms;
    u.uSize.value.set(at.width, at.height);
    u.uDensity.value = at.density;
    u.uScale.value = at.scale;
    u.uFloor.value = at.floorPx;
    u.uOrigin.value = at.left - at.camera.pan[0] * at.scale;
    u.uSlide.value.set(at.camera.slide, at.camera.lift);
    // The mat bends up a hand's breadth behind the deepest bag.
    u.uBack.value = 0.12 + 2 * Math.max(0.05, at.near);
    u.uRule.value.set(...at.rule);
  }
}
