import { mount } from "svelte";
import App from "$app/App.svelte";
import { theme } from "$shared/theme.svelte";
import "$shared/kit/tokens.css";
import "$shared/kit/base.css";
import "$shared/kit/control.css";

theme.apply();

const target = document.getElementById("app");
if (!target) throw new Error("index.html has no place for the app");
mount(App, { target });
