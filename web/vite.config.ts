import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';

// The engine is built beforehand (preset "browser"); the page carries it, the demo nursery and its weather as files.
export default defineConfig({
  base: './',
  plugins: [
    svelte(),
    VitePWA({
      // A new version waits until every page of the old one is closed: never in the middle of a session.
      registerType: 'prompt',
      injectRegister: null,
      manifest: {
        name: 'Strikebed',
        short_name: 'Strikebed',
        description: 'Pines from seed and seedling cuttings: plan, bench and daybook',
        start_url: './',
        display: 'standalone',
        background_color: '#f8f4ea',
        theme_color: '#2f5d3d',
        icons: [{ src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any maskable' }],
      },
      workbox: {
        globPatterns: ['**/*.{js,css,html,wasm,svg,webmanifest,json,csv,toml}'],
        maximumFileSizeToCacheInBytes: 8_000_000,
        clientsClaim: true,
      },
    }),
  ],
  worker: { format: 'es' },
  build: { target: 'es2022', assetsInlineLimit: 0, cssCodeSplit: false },
});
