import { useEffect, useState } from "preact/hooks";
import type * as api from "../net/api";
import { plural } from "../model/words";
import { folders, troubleOf } from "../net/program";
import { Trouble, Word } from "./parts";

/** Walks through the folders of this machine, as the program sees them. */
export function Folders({ choose, act = "bring-folder", words = "Bring in this folder", disabled = false }: { choose(path: string): void; act?: string; words?: string; disabled?: boolean }) {
  const [path, setPath] = useState("");
  const [listing, setListing] = useState<api.FolderListing>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  useEffect(() => {
    let gone = false;
    folders(path).then(
      (l) => { if (!gone) { setListing(l); setTrouble(undefined); } },
      (err) => { if (!gone) setTrouble(troubleOf(err)); });
    return () => { gone = true; };
  }, [path]);
  return (
    <div class="folders">
      {trouble && <p><Trouble of={trouble} />{listing && <Word act="again" onClick={() => setPath(listing.path)}>Back to {listing.path}</Word>}</p>}
      {listing && (
        <>
          <p class="starts">Begin from {listing.starts.map((s) => <Word key={s.path} act="open-folder" onClick={() => setPath(s.path)}>{s.name}</Word>)}</p>
          <p class="here"><span class="path">{listing.path}</span></p>
          <ul class="folder-list">
            {listing.parent !== "" && <li><button type="button" class="folder" data-act="open-folder" onClick={() => setPath(listing.parent)}><span>Up one folder</span></button></li>}
            {listing.folders.map((f) => (
              <li key={f.path}>
                <button type="button" class="folder" data-act="open-folder" onClick={() => setPath(f.path)}>
                  <span>{f.name}</span><span class="quiet">{f.pictures > 0 ? plural(f.pictures, "picture") : ""}</span>
                </button>
              </li>
            ))}
            {listing.folders.length === 0 && <li class="quiet">No folders in here.</li>}
          </ul>
          <p>
            <Word act={act} strong disabled={disabled} onClick={() => choose(listing.path)}>{words}</Word>
            <span class="quiet"> {listing.pictures > 0 ? `${plural(listing.pictures, "picture")} in it` : "No pictures directly in it"}; folders inside it come along.</span>
          </p>
        </>
      )}
    </div>
  );
}
