/** A code for cameras (QR, ISO/IEC 18004), black on white whatever the page looks like, with the four empty modules round it that they need. */
import { generate } from 'lean-qr';
import { html, type TemplateResult } from 'lit';

const QUIET = 4;

/** Modules that are dark, as one path; and how many a side has, with what is empty round it. */
export function codePath(text: string): { readonly d: string; readonly size: number } {
  const code = generate(text);
  let d = '';
  for (let y = 0; y < code.size; y++)
    for (let x = 0; x < code.size; x++) {
      if (!code.get(x, y)) continue;
      let end = x + 1;
      while (end < code.size && code.get(end, y)) end++;
      d += `M${x + QUIET} ${y + QUIET}h${end - x}v1h${x - end}z`;
      x = end;
    }
  return { d, size: code.size + 2 * QUIET };
}

/** @param label what a screen reader says */
export function codeDrawing(text: string, label: string): TemplateResult {
  const { d, size } = codePath(text);
  return html`<svg class="code" viewBox="0 0 ${size} ${size}" role="img" aria-label=${label} shape-rendering="crispEdges"><path d="M0 0h${size}v${size}h-${size}z" fill="#fff" /><path d=${d} fill="#000" /></svg>`;
}
