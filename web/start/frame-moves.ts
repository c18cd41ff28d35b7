/** How a band is moved on an image: pure, so that mouse, touch and keys do the same. */
import type { Frame } from '../../engine/index.ts';

/** By so many pixels of the image on the screen, to the right and down; the image goes there, the band stays. @param placePx width of a place on the screen */
export function moved(frame: Frame, dx: number, dy: number, placePx: number): Frame {
  const scale = frame.pxPerPlace / placePx;
  const turn = (frame.turnDegrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn) * scale, Math.sin(turn) * scale];
  return {
    ...frame,
    middleX: frame.middleX - (dx * cos - dy * sin),
    middleY: frame.middleY - (dx * sin + dy * cos),
  };
}

/** Smallest and largest number of image pixels on a place. */
const LEAST_PX = 0.5;
const MOST_PX = 1000;

/** The image so many times as large, about the middle of the band. */
export function zoomed(frame: Frame, times: number): Frame {
  return { ...frame, pxPerPlace: Math.min(MOST_PX, Math.max(LEAST_PX, frame.pxPerPlace / times)) };
}

/** The image turned clockwise by so many degrees, about the middle of the band. */
export function turnedBy(frame: Frame, degrees: number): Frame {
  const turn = (((frame.turnDegrees - degrees + 180) % 360) + 360) % 360;
  return { ...frame, turnDegrees: turn - 180 };
}

/** How the image lies behind the band, as a CSS transform from its upper left corner; the middle of the band is at `middle`. */
export function transformOf(frame: Frame, placePx: number, middle: { x: number; y: number }): string {
  const scale = placePx / frame.pxPerPlace;
  const turn = (-frame.turnDegrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn) * scale, Math.sin(turn) * scale];
  const x = middle.x - (cos * frame.middleX - sin * frame.middleY);
  const y = middle.y - (sin * frame.middleX + cos * frame.middleY);
  return `matrix(${cos}, ${sin}, ${-sin}, ${cos}, ${x}, ${y})`;
}

/** What a key does; null = nothing. */
export function movedByKey(frame: Frame, key: string, placePx: number): Frame | null {
  const step = placePx / 2;
  switch (key) {
    case 'ArrowLeft':
      return moved(frame, -step, 0, placePx);
    case 'ArrowRight':
      return moved(frame, step, 0, placePx);
    case 'ArrowUp':
      return moved(frame, 0, -step, placePx);
    case 'ArrowDown':
      return moved(frame, 0, step, placePx);
    case '+':
      return zoomed(frame, 1.1);
    case '-':
      return zoomed(frame, 1 / 1.1);
    case '<':
      return turnedBy(frame, -5);
    case '>':
      return turnedBy(frame, 5);
    default:
      return null;
  }
}
