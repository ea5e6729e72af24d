"""packet"""
