/** Colours of the canvas, read from the page's tokens: a canvas cannot use custom properties itself. */
export interface Theme {
  readonly page: string;
  readonly sunken: string;
  readonly text: string;
  readonly quiet: string;
  readonly line: string;
  readonly lineStrong: string;
  readonly accent: string;
  readonly onAccent: string;
  readonly warn: string;
  readonly font: string;
}

/** The tokens as they hold for this element now; to be read anew when the page turns dark or light. */
export function readTheme(element: Element): Theme {
  const style = getComputedStyle(element);
  const token = (name: string): string => style.getPropertyValue(name).trim();
  return {
    page: token('--lb-surface'),
    sunken: token('--lb-sunken'),
    text: token('--lb-text'),
    quiet: token('--lb-text-quiet'),
    line: token('--lb-line'),
    lineStrong: token('--lb-line-strong'),
    accent: token('--lb-accent'),
    onAccent: token('--lb-on-accent'),
    warn: token('--lb-warn'),
    font: style.fontFamily,
  };
}
