/** Whether the first steps were seen in this browser. */
const KEY = 'larkboard.first-steps';

export function hasFirstSteps(): boolean {
  return localStorage.getItem(KEY) === null;
}

export function endFirstSteps(): void {
  localStorage.setItem(KEY, 'seen');
}
