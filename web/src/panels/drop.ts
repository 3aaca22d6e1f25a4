// Dropping files from elsewhere anywhere on the page.

import type { Desk } from "../model/desk";
import { dropFiles, troubleOf } from "../net/program";
import { addTracks } from "./borrow";

/** Hands files over to the program and shows how far that is. */
export async function sendFiles(desk: Desk, files: readonly File[]): Promise<void> {
  if (files.length === 0) return;
  if (desk.sending) {
    desk.notify({ message: "Other files are still on their way.", hint: "Wait until they are there, then drop these again." });
    return;
  }
  const stop = new AbortController();
  const sent = (part: number) => {
    desk.sending = { files: files.length, part, stop: () => stop.abort() };
    desk.bell.ring();
  };
  sent(0);
  try {
    await dropFiles(desk.title.id, files, sent, stop.signal);
  } catch (err) {
    desk.notify(troubleOf(err));
  }
  desk.sending = undefined;
  desk.bell.ring();
}

/** Binds dropping to the whole window. Call the result to unbind. */
export function bindDrop(desk: Desk): () => void {
  const veil = document.createElement("div");
  veil.className = "veil";
  let depth = 0;
  const carries = (e: DragEvent) => [...(e.dataTransfer?.types ?? [])].includes("Files");
  const over = (e: DragEvent) => {
    if (!carries(e)) return;
    e.preventDefault();
    e.dataTransfer!.dropEffect = "copy";
  };
  const enter = (e: DragEvent) => {
    if (!carries(e) || ++depth !== 1) return;
    veil.textContent = desk.takesFiles ? "Let go to read them" : "Let go to bring them in";
    (document.querySelector("dialog[open]") ?? document.body).append(veil);
  };
  const leave = (e: DragEvent) => {
    if (carries(e) && --depth <= 0) end();
  };
  const end = () => {
    depth = 0;
    veil.remove();
  };
  const drop = (e: DragEvent) => {
    if (!carries(e)) return;
    e.preventDefault();
    end();
    void filesOf(e.dataTransfer!).then(async (files) => {
      if (files.length > 0 && desk.takesFiles) {
        desk.takesFiles(files);
        return;
      }
      const tracks = files.filter((f) => /\.gpx$/i.test(f.name));
      const others = files.filter((f) => !tracks.includes(f));
      if (files.length === 0) desk.notify({ message: "There was no file in what you dropped.", hint: "Drop photographs or a folder of them." });
      else desk.show({ sheet: others.length > 0 ? "bring" : "borrow" });
      await Promise.all([addTracks(desk, tracks), sendFiles(desk, others)]);
    });
  };
  window.addEventListener("dragover", over);
  window.addEventListener("dragenter", enter);
  window.addEventListener("dragleave", leave);
  window.addEventListener("drop", drop);
  return () => {
    end();
    window.removeEventListener("dragover", over);
    window.removeEventListener("dragenter", enter);
    window.removeEventListener("dragleave", leave);
    window.removeEventListener("drop", drop);
  };
}

/** All files dropped, those inside dropped folders too. */
async function filesOf(data: DataTransfer): Promise<File[]> {
  const entries = [...data.items].map((item) => item.webkitGetAsEntry()).filter((e) => e !== null);
  const files: File[] = [];
  for (const entry of entries) await collect(entry, files);
  return files;
}

async function collect(entry: FileSystemEntry, into: File[]): Promise<void> {
  if (entry.isFile) {
    into.push(await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject)));
    return;
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  for (;;) { // a reader gives a hundred entries at a time, and none at the end
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (some.length === 0) return;
    for (const one of some) await collect(one, into);
  }
}
