import { ENGLISH_STEP_WORDS, type StepWords } from '../../engine/index.ts';
import { ownStepWords } from '../text/index.ts';

/** The words of the work order's steps, in the language of the page. Needs the texts of any group. */
export function stepWords(): StepWords {
  return ownStepWords() ?? ENGLISH_STEP_WORDS;
}
