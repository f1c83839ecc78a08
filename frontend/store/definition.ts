/** A checklist as its author wrote it: see internal/checklist. */
export interface Definition {
  readonly format: string;
  readonly id: string;
  readonly version: string;
  readonly title: string;
  readonly note?: string;
  readonly help: readonly HelpLevel[];
  readonly sections: readonly Section[];
}

export interface HelpLevel {
  readonly level: string;
  readonly name: string;
  readonly text: string;
}

export interface Section {
  readonly code: string;
  readonly title: string;
  readonly items: readonly Item[];
}

export interface Item {
  readonly id: string;
  readonly title: string;
  readonly prompt: string;
  readonly type: string;
  readonly weight: number;
  readonly na?: boolean;
  readonly na_text?: string;
  readonly why?: string;
  readonly if_poor?: string;
  readonly levels?: readonly Level[];
  readonly unit?: string;
  readonly better?: string;
  readonly decimals?: number;
  readonly min?: number;
  readonly max?: number;
  readonly bands?: readonly Band[];
  readonly of?: number;
  readonly sides?: boolean;
  readonly from?: string;
  readonly asks?: readonly Ask[];
  readonly effects?: readonly Effect[];
  readonly group?: string;
}

export interface Level {
  readonly level: string;
  readonly text: string;
}

export interface Band {
  readonly bound?: number;
  readonly text: string;
}

export interface Ask {
  readonly fact: string;
  readonly prompt: string;
}

export interface Effect {
  readonly effect: string;
  readonly when: readonly Condition[];
}

export interface Condition {
  readonly levels?: readonly string[];
  readonly bands?: readonly number[];
  readonly facts?: readonly string[];
}
