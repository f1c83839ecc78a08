/** What the page asks of the engine worker, and what it answers. */
export type EngineAsk =
  | { readonly id: number; readonly op: 'score'; readonly hash: string; readonly rules: string; readonly visit: string }
  | {
      readonly id: number;
      readonly op: 'plausible';
      readonly what: string;
      readonly site: string;
      readonly value: number;
      readonly unit: string;
    }
  | { readonly id: number; readonly op: 'repeats' | 'run' | 'convert' | 'advice' | 'trend'; readonly text: string }
  | { readonly id: number; readonly op: 'plan'; readonly chair: string; readonly place: string }
  | { readonly id: number; readonly op: 'thresholds' };

export type EngineReply =
  { readonly id: number; readonly ok: true; readonly text: string } | { readonly id: number; readonly ok: false; readonly error: string };
