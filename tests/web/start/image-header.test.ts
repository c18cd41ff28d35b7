import { describe, expect, it } from 'vitest';
import { MOST_PIXELS, readImageHeader } from '../../../web/start/image-header.ts';

const bytes = (...parts: readonly (string | readonly number[])[]): Uint8Array =>
  Uint8Array.from(
    parts.flatMap((part) =>
      typeof part === 'string' ? Array.from(part, (sign) => sign.charCodeAt(0)) : part,
    ),
  );
const two = (value: number): number[] => [value >> 8, value & 255];
const four = (value: number): number[] => [...two(Math.floor(value / 65536)), ...two(value & 65535)];
const SIGNATURE = '\x89PNG\r\n\x1a\n';
const png = (width: number, height: number): Uint8Array =>
  bytes(SIGNATURE, four(13), 'IHDR', four(width), four(height), [8, 6, 0, 0, 0]);
/** A segment of a JPEG: its length counts itself. */
const segment = (marker: number, body: readonly number[]): number[] => [
  0xff,
  marker,
  ...two(body.length + 2),
  ...body,
];
const frame = (marker: number, width: number, height: number): number[] =>
  segment(marker, [8, ...two(height), ...two(width), 3]);
const jpeg = (...segments: readonly (readonly number[])[]): Uint8Array => bytes([0xff, 0xd8], ...segments);

describe('what a file says of its image', () => {
  it('[X114] PNG and JPEG say their size in their header, wherever it stands', () => {
    expect(readImageHeader(png(640, 70_000))).toEqual({
      ok: false,
      error: { kind: 'too-large', image: 'PNG', width: 640, height: 70_000 },
    });
    expect(readImageHeader(png(640, 480))).toEqual({
      ok: true,
      value: { kind: 'PNG', size: { width: 640, height: 480 } },
    });
    const application = segment(
      0xe1,
      [...'Exif\0\0'].map((sign) => sign.charCodeAt(0)),
    );
    // A table of codes has a marker between those of frames.
    const codes = segment(0xc4, [0, 1, 2, 3]);
    for (const marker of [0xc0, 0xc1, 0xc2, 0xcf])
      expect(readImageHeader(jpeg(application, codes, [0xff, 0xff], frame(marker, 900, 600)))).toEqual({
        ok: true,
        value: { kind: 'JPEG', size: { width: 900, height: 600 } },
      });
  });

  it('[X114] SVG is known by its first element', () => {
    for (const start of ['<svg>', '\ufeff<?xml version="1.0"?><!-- a leaf -->\n<svg xmlns="x">'])
      expect(readImageHeader(new TextEncoder().encode(start))).toEqual({
        ok: true,
        value: { kind: 'SVG', size: null },
      });
  });

  it('[X114] what is neither is refused, and what is damaged by the byte at which no size stands', () => {
    for (const other of ['', 'GIF89a', '<html><svg>', 'a heart'])
      expect(readImageHeader(bytes(other))).toEqual({ ok: false, error: { kind: 'no-image' } });
    const at = (read: ReturnType<typeof readImageHeader>): number | null =>
      !read.ok && read.error.kind === 'no-size' ? read.error.byte : null;
    expect(at(readImageHeader(bytes(SIGNATURE, four(13), 'IDAT')))).toBe(12);
    expect(at(readImageHeader(png(0, 9)))).toBe(16);
    expect(at(readImageHeader(png(9, 0)))).toBe(20);
    expect(at(readImageHeader(png(9, 9).subarray(0, 22)))).toBe(22);
    expect(at(readImageHeader(jpeg([1, 2, 3, 4])))).toBe(2);
    expect(at(readImageHeader(jpeg(frame(0xc0, 9, 0))))).toBe(7);
    expect(at(readImageHeader(jpeg(frame(0xc0, 0, 9))))).toBe(9);
    expect(at(readImageHeader(jpeg(segment(0xe0, [1, 2]), segment(0xda, [1]))))).toBe(8);
    expect(at(readImageHeader(jpeg([0xff, 0xe0, 0, 0])))).toBe(4);
    expect(at(readImageHeader(jpeg(segment(0xe0, [1, 2]))))).toBe(8);
    expect(at(readImageHeader(jpeg([0xff, 0xc0, 0, 11, 8])))).toBe(7);
  });

  it('[X115] over 40 million pixels are refused, of 40 million none', () => {
    expect(MOST_PIXELS).toBe(40_000_000);
    expect(readImageHeader(png(8000, 5000)).ok).toBe(true);
    for (const image of [png(8001, 5000), jpeg(frame(0xc2, 8000, 5001))])
      expect(readImageHeader(image)).toMatchObject({ ok: false, error: { kind: 'too-large' } });
  });
});
