import wrap from "svelte-spa-router/wrap";
import type { RouteDefinition } from "svelte-spa-router";
import Loading from "$shared/kit/Loading.svelte";
import Today from "$features/today/Today.svelte";

const later = (asyncComponent: Parameters<typeof wrap>[0]["asyncComponent"]) =>
  wrap({ asyncComponent, loadingComponent: Loading });

/** Addresses of the places. Every place can be linked to; `?chore=…` opens a chore on top. */
export const routes: RouteDefinition = {
  "/": Today,
  "/today": Today,
  "/season": later(() => import("$features/season/Season.svelte")),
  "/season/list": later(() => import("$features/season/Season.svelte")),
  "/season/close-up": later(() => import("$features/closeup/CloseUp.svelte")),
  "/shelter/:id?/:view?": later(() => import("$features/shelter/Shelter.svelte")),
  "/set-up": later(() => import("$features/setup/SetUp.svelte")),
  "/set-up/site": later(() => import("$features/setup/SitePage.svelte")),
  "/set-up/climate": later(() => import("$features/setup/ClimatePage.svelte")),
  "/set-up/shelters": later(() => import("$features/setup/SheltersPage.svelte")),
  "/set-up/plants": later(() => import("$features/setup/PlantsPage.svelte")),
  "/set-up/plants/catalogue": later(() => import("$features/setup/CataloguePage.svelte")),
  "/set-up/forecast": later(() => import("$features/setup/ForecastPage.svelte")),
  "/set-up/prices": later(() => import("$features/setup/PricesPage.svelte")),
  "*": later(() => import("./NoSuchPlace.svelte")),
};
