import type {
  Chair,
  ChairMeasured,
  Mount,
  MountNoted,
  Needs,
  NeedsNoted,
  PackedControl,
  Place,
  PlaceMeasured,
  Setting,
  SettingChanged,
  Stamp,
  Tried,
  Visit,
} from '../model.gen';
import type { Body } from './body';

/** What a visit says of kit, needs, home and settings; what was not said is left out. */
export type KitState = Pick<Visit, 'kit' | 'needs' | 'chair' | 'places' | 'settings' | 'mount'>;

export interface KitFold {
  readonly apply: (stamp: Stamp, kind: string, body: Body) => void;
  readonly state: () => KitState;
}

export function createKitFold(): KitFold {
  let kit: readonly PackedControl[] = [];
  let needs: Needs | null = null;
  let chair: Chair | null = null;
  let mount: Mount | null = null;
  /** By id, in the order in which they were first measured; also those taken out. */
  const places = new Map<string, Place>();
  const settings: Setting[] = [];
  /** By the change, also of one that has not come yet. */
  const tried = new Map<string, Tried>();

  return {
    apply: (stamp, kind, body) => {
      switch (kind) {
        case 'kit-packed':
          kit = body['controls'] as readonly PackedControl[];
          break;
        case 'needs-noted':
          needs = { ...withNeeds(needs, body as unknown as NeedsNoted), ...stamp };
          break;
        case 'needs-unset':
          needs = needs && withoutNeeds(needs, stamp, body['fields'] as readonly string[]);
          break;
        case 'chair-measured':
          chair = { ...stamp, ...(body as unknown as ChairMeasured) };
          break;
        case 'place-measured':
          places.set(body['place'] as string, { ...stamp, ...(body as unknown as PlaceMeasured) });
          break;
        case 'setting-changed':
          settings.push({ ...stamp, ...(body as unknown as SettingChanged) });
          break;
        case 'setting-tried':
          tried.set(body['setting'] as string, { ...stamp, ...(body as unknown as Tried) });
          break;
        case 'mount-noted':
          mount = { ...stamp, ...(body as unknown as MountNoted) };
          break;
        default:
          break;
      }
    },
    state: () => {
      const there = [...places.values()].filter((place) => !place.gone);
      return {
        ...(kit.length > 0 ? { kit } : {}),
        ...(needs ? { needs } : {}),
        ...(chair ? { chair } : {}),
        ...(there.length > 0 ? { places: there } : {}),
        ...(settings.length > 0 ? { settings: settings.map((one) => withTried(one, tried.get(one.ref))) } : {}),
        ...(mount ? { mount } : {}),
      };
    },
  };
}

function withTried(setting: Setting, tried: Tried | undefined): Setting {
  return tried ? { ...setting, tried } : setting;
}

/** What is named replaces; the rest stays. A site with an empty reason is taken back in. */
function withNeeds(had: NeedsNoted | null, given: NeedsNoted): NeedsNoted {
  const { moisture: wasMoist = {}, rejected: wasRejected = {}, ...before } = had ?? {};
  const { moisture = {}, rejected = {}, ...rest } = given;
  const moist = { ...wasMoist, ...moisture };
  const out = Object.fromEntries(Object.entries({ ...wasRejected, ...rejected }).filter(([, reason]) => reason !== ''));
  return {
    ...before,
    ...rest,
    ...(Object.keys(moist).length > 0 ? { moisture: moist } : {}),
    ...(Object.keys(out).length > 0 ? { rejected: out } : {}),
  };
}

/** What is named is not known again; moisture is named with its site. Null when nothing is left. */
function withoutNeeds(had: Needs, stamp: Stamp, names: readonly string[]): Needs | null {
  const { moisture: wasMoist = {}, ref: _ref, by: _by, at: _at, pos: _pos, ...said } = had;
  const left = Object.entries(said).filter(([field]) => !names.includes(field));
  const moist = Object.entries(wasMoist).filter(([site]) => !names.includes(`moisture.${site}`));
  if (left.length + moist.length === 0) return null;
  return { ...Object.fromEntries(left), ...(moist.length > 0 ? { moisture: Object.fromEntries(moist) } : {}), ...stamp };
}
