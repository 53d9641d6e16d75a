import type { MaterialsList, ShelterDetail } from "$contract";
import { call } from "$platform";
import { Loader } from "$shared/loader.svelte";

/** The shelter that is looked at, with the tables of what it can be built of; outlives the place. */
class ShelterPlace {
  readonly detail = new Loader<ShelterDetail>();
  readonly materials = new Loader<MaterialsList>();
  /** The shelter chosen last, for coming back to this place. */
  lastId: string | null = null;

  async load(shelterId: string): Promise<void> {
    this.lastId = shelterId;
    await this.detail.load(() => call("shelter_detail", { shelter_id: shelterId }));
  }

  /** The tables change with the program only, so once is enough. */
  async loadMaterials(): Promise<void> {
    if (!this.materials.value && !this.materials.busy) await this.materials.load(() => call("materials_list", {}));
  }
}

export const place = new ShelterPlace();
