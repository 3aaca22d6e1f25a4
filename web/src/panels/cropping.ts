// A crop in the hand: moved by pointer, fingers and keys, seen at once, kept as
// one act when the hand rests.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import type { Paging } from "../model/paging";
import { cropMoved, cropZoomed, keptCrop, placed, placementOf, wholeCrop } from "../model/plan";
import type * as api from "../net/api";
import type { Live } from "./opened";

const rest = 450; // ms without a key until the crop is kept; no source

export interface Cropping {
  readonly live: Live | undefined;
  move(of: api.Shown, dx: number, dy: number): void; // mm
  zoom(of: api.Shown, by: number, about?: api.Point): void;
  whole(of: api.Shown): void;
  keep(): void; // now, not after a rest
  later(): void;
}

export function useCropping(desk: Desk, paging: Paging): Cropping {
  const [live, setLive] = useState<Live>();
  const hand = useRef<{ live: Live; was: api.Crop } | undefined>(undefined);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const change = (of: api.Shown, next: (crop: api.Crop, width: number, height: number) => api.Crop) => {
    const photo = desk.photos.get(of.photo);
    if (!photo || !paging.now) return;
    if (hand.current && hand.current.live.photo !== of.photo) keep();
    const was = hand.current?.was ?? placementOf(paging.now.plan, of.photo).crop ?? wholeCrop;
    const crop = next(hand.current?.live.crop ?? was, photo.width, photo.height);
    hand.current = { live: { photo: of.photo, crop }, was };
    setLive(hand.current.live);
  };
  const keep = () => {
    clearTimeout(timer.current);
    const held = hand.current;
    hand.current = undefined;
    if (!held) return;
    const { photo, crop } = held.live;
    if (JSON.stringify(keptCrop(crop)) === JSON.stringify(keptCrop(held.was))) {
      setLive(undefined);
      return;
    }
    void paging.edit(`crop photo ${photo}`, ({ format, plan }) => ({ format, plan: placed(plan, photo, { crop: keptCrop(crop) }) }))
      .then(() => desk.say(`The crop of photo ${photo} is kept.`));
  };
  const later = () => {
    clearTimeout(timer.current);
    timer.current = setTimeout(keep, rest);
  };
  useEffect(() => { if (!hand.current && paging.waiting === 0) setLive(undefined); }, [paging.book]); // the book shows it now
  useEffect(() => keep, []); // nothing is lost when the panel closes
  return {
    live, keep, later,
    move: (of, dx, dy) => change(of, (crop, w, h) => cropMoved(of.whole, w, h, crop, dx, dy)),
    zoom: (of, by, about) => change(of, (crop, w, h) => cropZoomed(of.whole, w, h, crop, by, about)),
    whole: (of) => change(of, () => wholeCrop),
  };
}
