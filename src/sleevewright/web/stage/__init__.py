"""The stages of a job: what each asks for, its hold, its pictures, its cautions."""
