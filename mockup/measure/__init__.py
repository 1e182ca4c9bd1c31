"""What scans and photographs say: marks found, planes straightened, colours averaged. Pure; no files."""
