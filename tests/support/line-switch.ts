/** A page's lines to the documents of boards, to be cut and let through again. */
import type { Page, WebSocketRoute } from 'playwright-core';

export interface LineSwitch {
  cut(): Promise<void>;
  mend(): void;
}

/** To be called before the page opens a board. */
export async function switchLines(page: Page): Promise<LineSwitch> {
  let isCut = false;
  const lines = new Set<readonly [WebSocketRoute, WebSocketRoute]>();
  await page.routeWebSocket(/\/sync\/[^/]+\/design/, (line) => {
    if (isCut) void line.close({ code: 4500 });
    else lines.add([line, line.connectToServer()]);
  });
  return {
    cut: async () => {
      isCut = true;
      for (const ends of lines) for (const end of ends) await end.close({ code: 4500 });
      lines.clear();
    },
    mend: () => {
      isCut = false;
    },
  };
}
