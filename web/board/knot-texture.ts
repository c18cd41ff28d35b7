/** Textures in a lozenge, for colours that are hard to tell apart: none leans, so that none is taken for a half hitch. */

/** Lines and dots of texture 1 to 6 as parts of the half width and the half height, to be clipped to the lozenge. */
const LEVELS = [-0.62, -0.31, 0, 0.31, 0.62];
const WIDE_LEVELS = [-0.5, 0.5];

function dots(path: Path2D, half: number, tall: number, radius: number): void {
  for (const y of LEVELS)
    for (const x of LEVELS) {
      path.moveTo(x * half + radius, y * tall);
      path.arc(x * half, y * tall, radius, 0, 2 * Math.PI);
    }
}

/** What texture `number` adds to a lozenge around (0, 0). `line` is how wide its lines are drawn. */
export function texturePath(number: number, half: number, tall: number, line: number): Path2D {
  const path = new Path2D();
  const across = (levels: readonly number[]): void => {
    for (const y of levels) {
      path.moveTo(-half, y * tall);
      path.lineTo(half, y * tall);
    }
  };
  const down = (levels: readonly number[]): void => {
    for (const x of levels) {
      path.moveTo(x * half, -tall);
      path.lineTo(x * half, tall);
    }
  };
  switch (number) {
    case 1:
      across(LEVELS);
      break;
    case 2:
      dots(path, half, tall, line * 0.7);
      break;
    case 3:
      down(LEVELS);
      break;
    case 4:
      across(LEVELS);
      down(LEVELS);
      break;
    case 5:
      across(WIDE_LEVELS);
      break;
    case 6:
      down(WIDE_LEVELS);
      break;
    default:
      throw new RangeError(`there is no texture ${number}`);
  }
  return path;
}
