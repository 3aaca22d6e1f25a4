// Format and page plan in a panel's hand, for as long as the panel is open.

import { useEffect, useReducer, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { Paging } from "../model/paging";
import * as program from "../net/program";
import { settledRevision } from "./parts";

export function usePaging(desk: Desk): Paging {
  const id = desk.title.id;
  const [paging] = useState(() => new Paging({
    pages: () => program.pages(id),
    save: (wanted) => program.savePages(id, wanted),
    undo: (revision) => program.undoPages(id, revision),
    redo: (revision) => program.redoPages(id, revision),
    book: () => program.book(id),
  }, program.troubleOf, (now) => desk.changedPages(now)));
  const [, redraw] = useReducer((n: number) => n + 1, 0);
  useEffect(() => paging.bell.on(() => redraw(undefined)), [paging]);
  useEffect(() => void paging.open(), [paging]);
  useEffect(() => { if (desk.pages) paging.heard(desk.pages); }, [desk.pages]);
  const wall = settledRevision(desk);
  useEffect(() => { if (wall !== undefined && paging.book) void paging.lay(); }, [wall, desk.photos]);
  return paging;
}
