import { mount } from 'svelte';
import App from './App.svelte';
import './look/page.css';

mount(App, { target: document.getElementById('page')! });

// Opens without a network after the first visit. Over plain http from another machine there is none: the page says so.
if (import.meta.env.PROD && 'serviceWorker' in navigator) {
  void navigator.serviceWorker.register('./sw.js');
}
