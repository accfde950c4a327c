import { mount } from 'svelte';
import { httpServer } from './api/http';
import App from './App.svelte';
import './app.css';

const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the program');
mount(App, { target, props: { server: httpServer() } });
