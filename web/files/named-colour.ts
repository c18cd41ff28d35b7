/** Colours by the names that CSS has for them (CSS Color Module Level 4, named colours), such as `red`. */

/** The colour as `#rrggbb`; null when the browser knows no colour of this name, or one that is partly clear. */
export function hexOfName(name: string): string | null {
  if (!/^[a-z]+$/i.test(name)) return null;
  const context = new OffscreenCanvas(1, 1).getContext('2d');
  if (context === null) throw new Error('this browser draws no canvas');
  // A value that is no colour leaves the one before: two befores tell it apart from a colour that is one of them.
  const [first, second] = ['#000000', '#ffffff'].map((before) => {
    context.fillStyle = before;
    context.fillStyle = name;
    return String(context.fillStyle);
  });
  return first === second && /^#[0-9a-f]{6}$/.test(first!) ? first! : null;
}
