/** Writes what a long run measured, with date, machine and versions, to a file beside this one. */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';

/** Date, processor and versions, as every result carries them. */
export function machineLine(): string {
  const processors = cpus();
  const date = new Date().toISOString().slice(0, 10);
  return `${date}, ${processors.length} x ${processors[0]?.model.trim() ?? 'unknown processor'}, Node ${process.version}, ${process.platform}`;
}

/** @param name file name without ending; the file is replaced */
export function writeResult(name: string, title: string, lines: readonly string[]): void {
  const text = [`# ${title}`, '', machineLine(), '', ...lines.map((line) => `- ${line}`), ''].join('\n');
  writeFileSync(fileURLToPath(new URL(`./${name}.md`, import.meta.url)), text);
}
