/** Why there is no order of tying, to stand behind a colon. */
import type { WorkOrderError } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import type { OutOfRange } from '../worker/index.ts';
import { sayFieldError } from './say-field.ts';

type Refused = Pick<WorkOrderError, 'kind'> | OutOfRange;

/** Needs the texts of the group `common`. */
export function sayWorkOrderError(error: Refused): string {
  if ('demand' in error) return sayFieldError(error);
  switch (error.kind) {
    case 'too-large':
      return t('error.tooManyRows');
  }
}
