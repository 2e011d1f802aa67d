/**
 * The stock list of this tablet, the readings of its lights, and how its scanner sends a separator.
 * Everything is a small document of the journal; screens read the state and call the methods.
 */

import * as v from 'valibot';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { THIS_TABLET } from '../lead/lead-documents.ts';
import type { Readable } from '../readable.ts';
import { sameLot } from './same-lot.ts';
import {
  LIGHT_READING,
  type LightReading,
  MATERIAL,
  type Material,
  parseLightReading,
  parseMaterial,
} from './stock-types.ts';

const SCANNER = 'scanner';

export interface StockState {
  readonly isRead: boolean;
  readonly materials: readonly Material[];
  readonly readings: readonly LightReading[];
  /** What the scanner types in place of ASCII 29; empty when it types that. */
  readonly separator: string;
  /** Documents that could not be read; they stay stored as they are. */
  readonly damaged: number;
}

interface StockParts {
  readonly journal: Journal;
  /** The writer's epoch; null while another window writes. */
  readonly epoch: () => number | null;
}

type Done = Promise<Result<null, Problem>>;

/** A recall is of the lot: a box that is entered after it, or on another tablet, is marked as well. */
function withRecalls(materials: readonly Material[]): readonly Material[] {
  const marked = materials.filter((m) => m.recalled !== undefined);
  return materials.map((material) => {
    const { recalled } = marked.find((m) => sameLot(m.lot, material.lot)) ?? {};
    return material.recalled !== undefined || recalled === undefined
      ? material
      : { ...material, recalled };
  });
}

const scannerSchema = v.object({ separator: v.string() });

export class Stock {
  readonly #parts: StockParts;
  readonly #state: StoreApi<StockState> = createStore<StockState>(() => ({
    isRead: false,
    materials: [],
    readings: [],
    separator: '',
    damaged: 0,
  }));

  constructor(parts: StockParts) {
    this.#parts = parts;
    parts.journal.subscribe((news) => {
      if (news.type === 'document' && [MATERIAL, LIGHT_READING, SCANNER].includes(news.kind)) {
        void this.refresh();
      }
    });
  }

  get state(): Readable<StockState> {
    return this.#state;
  }

  /** Reads everything again. */
  async refresh(): Promise<void> {
    const { documents } = this.#parts.journal;
    const [materials, readings, scanner] = await Promise.all([
      documents.list(MATERIAL),
      documents.list(LIGHT_READING),
      documents.get(SCANNER, { id: THIS_TABLET }),
    ]);
    if (!materials.ok || !readings.ok) return;
    const parsedMaterials = materials.value.map((d) => parseMaterial(d.value));
    const parsedReadings = readings.value.map((d) => parseLightReading(d.value));
    const kept = parsedOr(scannerSchema, scanner.ok ? scanner.value : null);
    this.#state.setState({
      isRead: true,
      materials: withRecalls(parsedMaterials.filter((m) => m !== null)),
      readings: parsedReadings.filter((r) => r !== null),
      separator: kept?.separator ?? '',
      damaged: [...parsedMaterials, ...parsedReadings].filter((d) => d === null).length,
    });
  }

  saveMaterial(material: Material): Done {
    return this.#put({ kind: MATERIAL, id: material.id, value: material });
  }

  /** Takes an entry off the list that was made by mistake. Cases that named the lot keep it. */
  removeMaterial(id: string): Done {
    return this.#put({ kind: MATERIAL, id, value: null });
  }

  saveReading(reading: LightReading): Done {
    return this.#put({ kind: LIGHT_READING, id: reading.id, value: reading });
  }

  removeReading(id: string): Done {
    return this.#put({ kind: LIGHT_READING, id, value: null });
  }

  saveSeparator(separator: string): Done {
    return this.#put({ kind: SCANNER, id: THIS_TABLET, value: { separator } });
  }

  async #put(document: {
    readonly kind: string;
    readonly id: string;
    readonly value: unknown;
  }): Done {
    const epoch = this.#parts.epoch();
    if (epoch === null) {
      return err(
        problem('window', 'this window to be the one that writes', 'reader', 'not-writer'),
      );
    }
    const put = await this.#parts.journal.documents.put({ ...document, epoch });
    if (!put.ok) return put;
    await this.refresh();
    return ok(null);
  }
}
