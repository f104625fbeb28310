import { BufferAttribute, BufferGeometry, type Camera, LinearFilter, Mesh, Scene, type WebGLRenderer, WebGLRenderTarget } from 'three';
import { copyProgram } from './programs.ts';

/** One triangle that covers the whole canvas. */
export function coveringTriangle(): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array([-1, -1, 0, 3, -1, 0, -1, 3, 0]), 3));
  return geometry;
}

/**
 * Anti-aliasing for software rendering: at rest the picture is drawn once at twice the size and halved onto the canvas.
 * A separate target, because changing the canvas's own size waits for all drawing that is still queued and blocks the page.
 */
export class FineDraw {
  private readonly target = new WebGLRenderTarget(1, 1, { minFilter: LinearFilter, magFilter: LinearFilter });
  private readonly scene = new Scene();
  private readonly program = copyProgram();
  constructor(private readonly renderer: WebGLRenderer) {
    const sheet = new Mesh(coveringTriangle(), this.program);
    sheet.frustumCulled = false;
    this.scene.add(sheet);
  }

  /** Sends the drawing of `paint` through the doubled target. Sizes in css px; the canvas has one device px each. */
  draw(width: number, height: number, eye: Camera, paint: () => void): void {
    const { renderer, target, program } = this;
    if (target.width !== 2 * width || target.height !== 2 * height) target.setSize(2 * width, 2 * height);
    renderer.setRenderTarget(target);
    paint();
    renderer.setRenderTarget(null);
    renderer.setScissorTest(false);
    renderer.setViewport(0, 0, width, height);
    program.uniforms.uPicture.value = target.texture;
    program.uniforms.uTexel.value.set(1 / width, 1 / height);
    renderer.render(this.scene, eye);
  }
}
