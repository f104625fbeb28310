import type { Path } from '../bag/index.ts';
import type { MemberKind, PanelRole, Point2 } from '../bag/types.ts';
import type { FinishChoice } from './edit-finishes.ts';
import type { Inside } from './edit-inside.ts';
import type { Bend } from './edit-outline.ts';
import type { NewPanel } from './edit-panels.ts';
import type { NewFlap, NewTab } from './edit-parts.ts';
import type { SeamChoice } from './edit-sewing.ts';
import type { NewStrap } from './edit-straps.ts';
import type { NewClosure, NewFeet, NewHardware, NewMember } from './edit-trims.ts';

/**
 * One edit of a drawn bag. Panels, edges, corners, seams and straps go by their names ("front", "bottom", "upper right" or "3", "A"); shares are of an edge's
 * own length from its start; places are in the panel's frame, m; sizes are written as in the file ("300 mm", "W/2").
 */
export type DrawEdit =
  | { readonly do: 'panel'; readonly panel: NewPanel }
  | { readonly do: 'copy' | 'mirror'; readonly panel: string; readonly name: string }
  | { readonly do: 'delete panel' | 'own shape'; readonly panel: string }
  | { readonly do: 'rename'; readonly panel: string; readonly name: string }
  | { readonly do: 'role'; readonly panel: string; readonly role: PanelRole }
  | { readonly do: 'open'; readonly panel: string; readonly edge: string; readonly open: boolean }
  | { readonly do: 'split'; readonly panel: string; readonly edge: string; readonly share: number }
  | { readonly do: 'bend'; readonly panel: string; readonly edge: string; readonly into: Bend }
  | { readonly do: 'delete corner'; readonly panel: string; readonly corner: string }
  | { readonly do: 'round'; readonly panel: string; readonly corner: string; readonly radius: string }
  | { readonly do: 'mark'; readonly panel: string; readonly at: Point2; readonly name: string }
  | { readonly do: 'notch'; readonly panel: string; readonly edge: string; readonly share: number; readonly name: string }
  | { readonly do: 'hole'; readonly panel: string; readonly at: Point2; readonly size: string; readonly round: boolean }
  | { readonly do: 'line'; readonly panel: string; readonly at: Point2; readonly upright: boolean; readonly fold: string | null; readonly name: string }
  | { readonly do: 'delete inside'; readonly panel: string; readonly what: Inside; readonly name: string }
  | { readonly do: 'sew'; readonly sides: readonly [readonly string[], readonly string[]] }
  | { readonly do: 'gusset'; readonly edges: readonly string[]; readonly width: string }
  | { readonly do: 'pocket'; readonly panel: string; readonly height: string }
  | { readonly do: 'flap'; readonly panel: string; readonly edge: string; readonly flap: NewFlap }
  | { readonly do: 'tab'; readonly panel: string; readonly edge: string; readonly tab: NewTab }
  | { readonly do: 'dart'; readonly panel: string; readonly edge: string; readonly share: number; readonly width: string; readonly depth: string }
  | { readonly do: 'finish'; readonly panel: string; readonly edge: string; readonly choice: FinishChoice }
  | { readonly do: 'unpick' | 'fill'; readonly seam: string }
  | { readonly do: 'turn'; readonly seam: string; readonly reversed: boolean }
  | { readonly do: 'seam'; readonly seam: string; readonly choice: SeamChoice }
  | { readonly do: 'strap'; readonly strap: NewStrap }
  | { readonly do: 'delete strap'; readonly strap: string }
  | { readonly do: 'member'; readonly member: NewMember }
  | { readonly do: 'member kind'; readonly name: string; readonly kind: MemberKind }
  | { readonly do: 'closure'; readonly closure: NewClosure }
  | { readonly do: 'closed'; readonly closure: string; readonly stance: string; readonly on: boolean }
  | { readonly do: 'hardware'; readonly hardware: NewHardware }
  | { readonly do: 'feet'; readonly panel: string; readonly feet: NewFeet }
  | { readonly do: 'take off'; readonly what: 'members' | 'closures' | 'hardware'; readonly name: string }
  | { readonly do: 'write'; readonly path: Path; readonly text: string }
  | { readonly do: 'parameter'; readonly path: Path; readonly label: string }
  | { readonly do: 'label'; readonly parameter: string; readonly label: string };
