/** A colour for a palette that differs from what is there. */
import { ciede2000 } from './difference.ts';
import { hexToLab, type Lab, labToHex } from './lab.ts';
import { differences, labInEachSight, type SightLabs } from './palette-check.ts';

/** L*, chroma and hue (in degrees) of what is offered: as dyed thread comes, neither neon nor near black. Our own choice, no source. */
const LIGHTS = [32, 46, 60, 74, 88];
const CHROMAS = [0, 22, 40, 58];
const HUE_STEP = 20;
/** How far a colour may be moved to fit into sRGB, in CIEDE2000. */
const GAMUT_TOLERANCE = 1;

let offered: readonly { readonly hex: string; readonly labs: SightLabs }[] | null = null;

/** Every colour of the grid that sRGB has, each once. */
function candidates(): NonNullable<typeof offered> {
  if (offered !== null) return offered;
  const found = new Map<string, SightLabs>();
  for (const light of LIGHTS)
    for (const chroma of CHROMAS)
      for (let hue = 0; hue < (chroma === 0 ? 1 : 360); hue += HUE_STEP) {
        const angle = (hue * Math.PI) / 180;
        const lab: Lab = [light, chroma * Math.cos(angle), chroma * Math.sin(angle)];
        const hex = labToHex(lab);
        if (ciede2000(lab, hexToLab(hex)) < GAMUT_TOLERANCE) found.set(hex, labInEachSight(hex));
      }
  offered = [...found].map(([hex, labs]) => ({ hex, labs }));
  return offered;
}

/**
 * Of a grid of thread colours the one whose nearest neighbour among the given ones is farthest away, in whichever sight it is nearest.
 * @param hexes `#rrggbb`; may be empty
 * @throws RangeError when one of them is not `#rrggbb`
 * O(grid x colours). Rule S18.
 */
export function distinctColour(hexes: readonly string[]): string {
  const there = [...new Set(hexes)].map((hex) => labInEachSight(hex));
  let best = '';
  let bestGap = -1;
  for (const { hex, labs } of candidates()) {
    let gap = Number.POSITIVE_INFINITY;
    for (const other of there) gap = Math.min(gap, ...Object.values(differences(labs, other)));
    if (gap > bestGap) [best, bestGap] = [hex, gap];
  }
  return best;
}
