"""traveler"""
