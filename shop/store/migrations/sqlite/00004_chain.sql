-- +goose Up
ALTER TABLE job_revisions ADD COLUMN chain TEXT NOT NULL DEFAULT '';
