/** What the server sends. Lengths are inches; texts are ready to print. */
export type Point = [number, number];
export type Point3 = [number, number, number];

export interface JobRow { id: string; name: string; version: number; can_undo: boolean; can_redo: boolean; changed: string; }
export interface Level { id: string; subfloor: number; plate_top: number; slab: boolean; says: string; }
export interface Room { name: string; level: string; kind: string; polygon: Point[]; area_ft2: number; }
export interface Wall {
  id: string; level: string; name: string; start: Point; end: Point; plates: [number, number]; polygon: Point[];
  core: string; thickness: number; spacing: number; bearing: string; exterior: boolean; rated: string;
  framed: boolean; length: string; left: string[]; right: string[]; kind: string; first_mark: string; laid_out_from: string; wet: boolean;
}
export interface Opening { id: string; wall: string; level: string; kind: string; window: boolean; polygon: Point[]; says: string; swing: Point[] | null; from_start: string; width: string; sill: string; height: string; rooms: string[]; swings_into: string; hinge: string; }
export interface FloorFrame { id: string; kind: string; above: string; below: string; area: number[]; direction: 'x' | 'y'; members: number[]; nominal: string; }
export interface Stair { id: string; what: string; levels: string[]; rect: number[]; }
export interface Obstacle { id: string; kind: string; levels: string[]; shape: 'path' | 'rect' | 'circle' | 'none'; points?: Point[]; rect?: number[]; at?: Point; radius?: number; }
export interface PortCount { kind: string; count: number; }
export interface Location {
  id: string; room: string; level: string; mount: string; at: Point3; wall: string; offset: number | null; side: string;
  height: string; height_in: number; ports: PortCount[]; place: string; note: string; reason: string;
}
export interface Enclosure { id: string; chosen: boolean; level: string; room: string; wall: string; side: string; polygon: Point[]; z: [number, number]; says: string; }
export interface Cable { letter: string; name: string; line: string; diameter: number; }
export interface Assumption { id: string; says: string; where: string; why: string; }
export interface House {
  id: string; name: string; revision: { number: string; date: string; note: string };
  levels: Level[]; rooms: Room[]; walls: Wall[]; openings: Opening[]; frames: FloorFrame[]; stairs: Stair[];
  obstacles: Obstacle[]; locations: Location[]; enclosures: Enclosure[]; cables: Cable[]; assumptions: Assumption[];
}
export interface Totals {
  runs: number; unreached: number; feet: number; holes: number; plates: number; stops: number; fix_soon: number;
  cannot_tell: number; notes: number; price: string; currency: string; unpriced: number; why: Record<string, string>;
}
export interface Run {
  id: string; kind: string; from: string; to: string; ends: [string, string]; path: Point3[]; holes: string[];
  length: string; length_in: number; why: string; way: string; reason: string;
}
export interface Bundle { line: [Point, Point]; runs: string[]; kinds: string[]; says: string; }
export interface Hole {
  id: string; level: string; at: Point3; diameter: number; size: string; axis: string; open: boolean; place: string;
  occupants: string[]; circles: Point3[]; steel: string[];
}
export interface Fix { verb: string; arguments: (string | number)[]; says: string; request_to: string; }
export interface Finding {
  id: string; rule: string; severity: 'stop' | 'fix soon' | 'note' | 'cannot tell'; place: string; says: string;
  measured: string; limit: string; source: string; about: string[]; where: { level: string; at: Point; id: string } | null;
  since: string; fixes: Fix[];
}
export interface Plan {
  totals: Totals; change: string | null; runs: Run[]; unreached: { run: string; last_place: string; barred_by: string }[];
  bundles: Record<string, Bundle[]>; holes: Hole[]; findings: Finding[];
}
export interface Working { says: string; done: number; of: number; }
export interface Drawing { name: string; kind: string; where: string; heading: string; says: string; scale: string; width: number; height: number; caution: string; notes: string[]; }
export interface ListName { name: string; title: string; rows: number; }
export interface ListTable { name: string; title: string; heads: string[]; numbers: boolean[]; rows: [string, string | number][][]; }
export interface PackState { begun: boolean; working: Working; made: boolean; failed: string; files: { name: string; bytes: number }[]; }
export interface ImportState { id: string; working: Working; failed: string; job: JobRow | null; said: string[]; }
export interface Step { number: number; says: string; by: string; at: string; }
export interface SaveRow { number: number; name: string; by: string; at: string; }

/** What is chosen on the page. */
export type Choice =
  | { what: 'nothing' }
  | { what: 'location' | 'hole' | 'run' | 'wall' | 'opening' | 'room' | 'enclosure' | 'finding' | 'obstacle'; id: string };

/** What a touch on the plan means, and what the forms beside it say. */
export interface Doing {
  what: 'look' | 'place' | 'wall' | 'opening' | 'trade' | 'enclosure';
  kind: string; height: string; wallKind: string; openingKind: string; openingWidth: string; tradeKind: string; grid: string;
}
